"""The archive: out of the caseload with a reason, never lost, back in sight with the first thing that the client tells."""

from datetime import date

import pytest

from tests.builders import days_of, event, morning, session
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist
from webapp.records import archivings, events

REASON = "Came no more; two calls, no answer."
TODAY = date(2026, 3, 9)


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)] * 7))
    return f"/practice/cases/{site.founder.public_id}"


def _entries(hedda, path, **changes):
    hedda.open(path)
    return hedda.form("/archive").to_dict() | {"archive-archive_reason": REASON} | changes


def _archive(hedda, path, **changes):
    return hedda.send(f"{path}/archive", _entries(hedda, path, **changes), follow=True)


def _caseload(hedda, **wanted):
    hedda.open("/practice" + "".join(f"{'&' if n else '?'}{k}={v}" for n, (k, v) in enumerate(wanted.items())))
    return hedda.page.text


def _is_listed(site, hedda, **wanted):
    return f"client-{site.founder.public_id}" in _caseload(hedda, **wanted)


def test_an_archived_case_leaves_the_groups_and_is_found_by_search_and_filter(site, hedda, path):
    assert _is_listed(site, hedda)
    _archive(hedda, path)
    assert "is in the archive." in hedda.text
    assert not _is_listed(site, hedda)
    assert "1 client is in the archive" in _caseload(hedda)
    assert _is_listed(site, hedda, group="archived")
    assert _is_listed(site, hedda, name="ansgar")
    assert REASON in _caseload(hedda, name="ansgar")
    assert not _is_listed(site, hedda, name="nobody")


def test_its_log_and_files_stay_readable_and_it_can_be_taken_back(site, hedda, path):
    _archive(hedda, path)
    for page in (path, f"{path}/account", f"{path}/summary", f"{path}/routine"):
        assert hedda.open(page).status_code == 200, page
    hedda.open(path)
    assert REASON in hedda.text
    hedda.send(f"{path}/archive/back", hedda.form("/archive/back"), follow=True)
    assert "stands in the caseload again" in hedda.text
    assert _is_listed(site, hedda)
    kept = archivings.of_client(site.db, site.founder.id)
    assert [(each.is_archived, each.reason, each.by) for each in kept] == [
        (False, "", site.hedda.name),
        (True, REASON, site.hedda.name),
    ]


@pytest.mark.parametrize("told_by", ["sharp", "session", "morning", "letter"])
def test_whatever_the_client_tells_is_stored_and_brings_the_case_back_to_notice(site, hedda, path, told_by):
    _archive(hedda, path)
    sent = {
        "sharp": session(TODAY, 3, sharp=True, seq=960),
        "session": session(TODAY, 1, seq=960),
        "morning": morning(TODAY, 1, seq=960),
        "letter": event("letter_written", TODAY, {"text": "Are you there?"}, seq=960),
    }[told_by]
    before = events.newest_seq(site.db, site.founder.id)
    site.receive(site.founder, [sent])
    assert events.newest_seq(site.db, site.founder.id) == before + 1
    page = _caseload(hedda, group="needs")
    assert f"client-{site.founder.public_id}" in page
    assert "1 entry came in after that" in hedda.open(path).text


def test_sharp_pain_stands_first_among_the_reasons(site, hedda, path):
    _archive(hedda, path)
    site.receive(site.founder, [session(TODAY, 3, sharp=True, seq=960)])
    assert _is_listed(site, hedda, cause="sharp")
    assert _is_listed(site, hedda, cause="archived")


def test_what_a_phone_says_by_itself_brings_nobody_back(site, hedda, path):
    _archive(hedda, path)
    site.receive(site.founder, [event("note_read", TODAY, {"version": 1}, seq=961)])
    assert not _is_listed(site, hedda)


def test_a_phone_that_waits_to_be_confirmed_keeps_the_case_in_sight(site, hedda, path):
    _archive(hedda, path)
    site.db.execute("UPDATE devices SET to_confirm = 1 WHERE client = ?", [site.founder.id])
    site.db.conn.commit()
    assert _is_listed(site, hedda, cause="phone-to-confirm")


def test_archiving_again_takes_it_out_of_sight_until_the_next_entry(site, hedda, path):
    _archive(hedda, path)
    site.receive(site.founder, [session(TODAY, 1, seq=960)])
    assert _is_listed(site, hedda)
    hedda.open(path)
    assert hedda.form("/archive")["archive-archive_reason"] == REASON
    _archive(hedda, path)
    assert not _is_listed(site, hedda)


def test_an_entry_that_came_in_meanwhile_is_read_first(site, hedda, path):
    entries = _entries(hedda, path)
    site.receive(site.founder, [session(TODAY, 3, sharp=True, seq=960)])
    assert hedda.send(f"{path}/archive", entries | {"archive-archive_despite": "yes"}).status_code == 409
    assert "Nothing was archived" in hedda.text
    assert REASON in hedda.text
    assert archivings.of_client(site.db, site.founder.id) == []


def test_the_same_form_twice_archives_once(site, hedda, path):
    entries = _entries(hedda, path)
    for _ in range(2):
        assert hedda.send(f"{path}/archive", entries).status_code == 303
    assert len(archivings.of_client(site.db, site.founder.id)) == 1


@pytest.mark.parametrize("reason", ["", " ", "x" * 281])
def test_without_a_fitting_reason_nothing_is_archived(site, hedda, path, reason):
    assert _archive(hedda, path, **{"archive-archive_reason": reason}).status_code == 400
    assert archivings.of_client(site.db, site.founder.id) == []


def test_a_held_case_says_so_first_and_stays_held(site, hedda):
    hold_cellist(site)
    path = f"/practice/cases/{site.cellist.public_id}"
    assert _archive(hedda, path).status_code == 400
    assert "An arm is held. The phone gives no dose until you release it" in hedda.text
    assert _archive(hedda, path, **{"archive-archive_despite": "yes"}).status_code == 200
    assert f"client-{site.cellist.public_id}" not in _caseload(hedda)
    assert "/release" in hedda.open(path).text


def test_nobody_archives_or_takes_back_anothers_case(site, hedda, path):
    entries = _entries(hedda, path)
    other = f"/practice/cases/{site.organ_builder.public_id}"
    assert hedda.send(f"{other}/archive", entries).status_code == 404
    assert hedda.send(f"{other}/archive/back", entries).status_code == 404


def test_a_case_that_is_not_there_cannot_be_taken_back(site, hedda, path):
    hedda.open(path)
    token = {"csrf_token": hedda.form("/archive").get("archive-csrf_token")}
    hedda.send(f"{path}/archive/back", token, follow=True)
    assert "Nothing waits for you any more" in hedda.text
    assert archivings.of_client(site.db, site.founder.id) == []


def test_a_client_who_is_removed_leaves_nothing_in_the_archive(site, hedda, path):
    _archive(hedda, path)
    hedda.open(f"{path}/delete")
    hedda.send(f"{path}/delete", hedda.form().to_dict() | {"typed_name": "Ansgar Tolle"}, follow=True)
    assert archivings.of_client(site.db, site.founder.id) == []

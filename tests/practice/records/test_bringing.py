"""Our own file brought in at the desk: shown first, taken once, all of it or nothing, and nobody twice."""

import json
from io import BytesIO

import pytest

from tests.builders import days_of, session
from tests.cast import FIRST_DAY, JONAS, NOW
from tests.practice.visitor import HEADERS
from webapp.practice.records.bringing import MOST_BYTES
from webapp.records import carrying, history
from webapp.sync.carrying import own_file
from webapp.sync.case.told_intake import TOLD_LATER

ADDRESS = "/practice/records/bring"


def _file(site, *clients):
    return b"".join(own_file.write_file(site.db, [each.id for each in clients], NOW))


@pytest.fixture
def of_others(site):
    """The file of two clients of another practice's records, as their ids say."""
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2), (2, 3)]))
    whole = json.loads(_file(site, site.founder, site.cellist))
    for number, client in enumerate(whole["clients"]):
        client["client"] |= {"id": f"elsewhere{number}", "name": f"From Afar {number}"}
    return whole


def _show(hedda, raw, **more):
    hedda.open(ADDRESS)
    raw = raw if isinstance(raw, bytes) else json.dumps(raw).encode()
    sent = {"csrf_token": hedda.form()["csrf_token"], "file": (BytesIO(raw), "clients.json")} | more
    hedda.page = hedda.client.post(ADDRESS, data=sent, headers=HEADERS)
    return hedda.page


def _names(site):
    return sorted(row[0] for row in site.db.execute("SELECT name FROM clients").fetchall())


def test_a_file_is_shown_first_and_taken_once(site, hedda, of_others):
    before = _names(site)
    assert _show(hedda, of_others).status_code == 200
    assert "2 clients are new. They come into your own caseload." in hedda.text
    assert "Phones do not come along." in hedda.text
    assert _names(site) == before
    entries = hedda.form().to_dict()
    assert hedda.send(ADDRESS, entries, follow=True).status_code == 200
    assert "2 clients were brought in, into your own caseload." in hedda.text
    assert _names(site) == sorted([*before, "From Afar 0", "From Afar 1"])
    assert set(carrying.known_ids(site.db, ["elsewhere0", "elsewhere1"], site.hedda.id)) == {"elsewhere0", "elsewhere1"}
    assert hedda.send(ADDRESS, entries).status_code == 400
    assert "Whoever was brought in already is in your caseload" in hedda.text
    assert len(_names(site)) == len(before) + 2
    house = site.db.execute("SELECT practice FROM practitioners WHERE id = ?", (site.hedda.id,)).fetchone()[0]
    assert [each.act for each in history.of_practice(site.db, house, 1 << 53, 9)].count("practice.records.bring") == 1


def test_who_is_here_already_stays_and_what_differs_is_named(site, hedda, of_others):
    whole = json.loads(_file(site, site.founder, site.cellist))
    whole["clients"] += of_others["clients"][:1]
    site.receive(site.founder, [session(FIRST_DAY, 9, seq=70)])
    whole["clients"][1]["client"]["name"] = "Isaura Renamed"
    _show(hedda, whole)
    assert "1 client is new" in hedda.text
    assert "2 clients are here already and stay as they are." in hedda.text
    assert "Ansgar Tolle : differs. 1 entry is here only." in hedda.text
    assert "Isaura Linde : differs. Name, intake, routine or notes are not the same." in hedda.text
    hedda.send(ADDRESS, hedda.form().to_dict())
    assert _names(site).count("Ansgar Tolle") == 1
    assert "Isaura Renamed" not in _names(site)
    _show(hedda, of_others["clients"] and {**of_others, "clients": of_others["clients"][:1]})
    assert "the same as in the file" in hedda.text
    assert "Nobody in it is new" in hedda.text


def test_a_client_of_somebody_else_here_is_neither_taken_nor_compared(site, hedda):
    site.receive(site.organ_builder, [session(FIRST_DAY, 9, seq=70)])
    _show(hedda, _file(site, site.organ_builder))
    assert "Livia Korn : with somebody else here" in hedda.text
    assert "differs" not in hedda.text
    assert "Nobody in it is new" in hedda.text


def test_a_faulty_file_names_every_fault_and_nothing_is_half_taken(site, hedda, of_others):
    before = _names(site)
    of_others["clients"][0]["entries"][0]["entry"]["on"] = "2026-13-01"
    of_others["clients"][1]["client"]["locale"] = "no such language"
    assert _show(hedda, of_others).status_code == 400
    assert "Nobody was brought in" in hedda.text
    assert "clients[1].entries[1].on" in hedda.text
    assert "clients[2].client.locale" in hedda.text
    assert 'name="shown"' not in hedda.page.text
    assert _names(site) == before


@pytest.mark.parametrize("raw", [b"", b"{", b"\xff\xfe", b"[1, 2]"])
def test_what_is_no_such_file_is_refused(hedda, raw):
    assert _show(hedda, raw).status_code == 400


ODD_INTAKES = (
    {"by_client": True, "arms": 5},
    {"mass_kg": "heavy"},
    {"height_m": None},
    {"sex": ["male"]},
    {"usual": True},
    {"start_rungs": {"right": "low"}},
    {"area": []},
)


@pytest.mark.parametrize("odd", ODD_INTAKES, ids=str)
def test_an_intake_that_no_page_could_show_is_a_fault(site, hedda, of_others, odd):
    of_others["clients"][0]["client"]["intake"] |= odd
    assert _show(hedda, of_others).status_code == 400
    assert "clients[1].client.intake" in hedda.text
    assert "From Afar 0" not in _names(site)


def test_a_client_who_tells_the_intake_on_the_phone_is_taken(site, hedda, of_others):
    of_others["clients"][1]["client"]["intake"] = dict(TOLD_LATER)
    _show(hedda, of_others)
    hedda.send(ADDRESS, hedda.form().to_dict())
    assert "From Afar 1" in _names(site)
    assert hedda.open("/practice").status_code == 200


@pytest.mark.parametrize("damaged", [b'{"id":"\xff"}', b'{"id":"\\q"}', b'{"x":' + b"[" * 3000 + b"]" * 3000 + b"}"])
def test_an_entry_whose_bytes_are_damaged_is_a_fault(site, hedda, of_others, damaged):
    of_others["clients"][0]["entries"][0]["entry"] = "DAMAGED"
    assert _show(hedda, json.dumps(of_others).encode().replace(b'"DAMAGED"', damaged)).status_code == 400
    assert "Nobody was brought in" in hedda.text
    assert "From Afar 0" not in _names(site)


def test_a_file_of_a_newer_version_says_what_to_do(hedda, of_others):
    assert _show(hedda, {**of_others, "version": 2}).status_code == 400
    assert "Bring this program up to date first" in hedda.text


def test_a_file_over_the_limit_is_told_who_can_bring_it_in(hedda):
    length = {"CONTENT_LENGTH": str(MOST_BYTES + 1)}
    hedda.page = hedda.client.post(ADDRESS, data=b"x", headers=HEADERS, environ_overrides=length)
    assert hedda.page.status_code == 413
    assert "over 8 MB" in hedda.text


def test_the_file_of_another_practitioner_is_not_taken_by_a_guessed_key(site, hedda, of_others, visitor):
    _show(hedda, of_others)
    key = hedda.form()["shown"]
    visitor.sign_in(JONAS.email, JONAS.password)
    visitor.open(ADDRESS)
    token = visitor.form()["csrf_token"]
    assert visitor.send(ADDRESS, {"csrf_token": token, "step": "take", "shown": key}).status_code == 400
    assert "From Afar 0" not in _names(site)


def test_a_file_waits_half_an_hour(site, hedda, of_others):
    _show(hedda, of_others)
    entries = hedda.form().to_dict()
    site.clock.pass_by(minutes=31)
    assert hedda.send(ADDRESS, entries).status_code == 400
    assert "The file is not kept any more" in hedda.text

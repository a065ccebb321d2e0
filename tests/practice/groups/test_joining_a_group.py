"""Who joins by the link of a group: who starts, who waits, who is refused, and thirty at once."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest

from tests.builders import event, screened, uuid7
from tests.cast import FIRST_DAY
from tests.practice.groups.conftest import TOLD, Newcomer, invite
from webapp.library.shelf import the_shelf
from webapp.records import cases, groups, members, new_life, routines
from webapp.records.database import write

TODAY = date(2026, 3, 9)
SIGN = next(sign.id for sign in the_shelf().warnings if sign.level == "ask_first")


def _case_of(site, newcomer):
    return cases.find(site.db, site.hedda.id, newcomer.joined["client"]["id"])


def test_who_has_no_sign_and_a_low_usual_morning_gets_the_routine_in_the_same_answer(site, group):
    newcomer = Newcomer(site)
    assert newcomer.offer(group.token).json["is_group"] is True
    newcomer.join(group.token)
    assert newcomer.sync().json["start"] == {"waits_for": "screening", "asks_intake": True}
    reply = newcomer.answer().json
    assert reply["start"] == {"waits_for": "nothing", "asks_intake": False}
    assert reply["bundle"] is not None
    assert list(reply["anchors"]) == ["right"]
    case = _case_of(site, newcomer)
    assert case.name == "Tuesday, 1"
    assert routines.latest(site.db, case.id).settings["start_rungs"] == {"right": 1}
    assert [entry["event"]["kind"] for entry in reply["events"]].count("intake_confirmed") == 1


@pytest.mark.parametrize(
    ("first_name", "called"),
    [(" Ödön ", "Ödön (Tuesday, 1)"), (" ", "Tuesday, 1"), ("x" * 99 + "\n", f"{'x' * 30} (Tuesday, 1)")],
)
def test_a_newcomer_may_give_a_first_name_or_none(site, group, first_name, called):
    newcomer = Newcomer(site)
    newcomer.join(group.token, first_name=first_name)
    assert _case_of(site, newcomer).name == called


@pytest.mark.parametrize(
    ("signs", "changes"),
    [
        ((SIGN,), {}),
        ((), {"usual": 4}),
        ((), {"mass_kg": None}),
        ((), {"places": ["inner_elbow"]}),
        ((), {"places": ["outer_elbow", "wrist_back"]}),
    ],
)
def test_everybody_else_waits_for_the_practitioner(site, group, signs, changes):
    newcomer = Newcomer(site)
    newcomer.join(group.token)
    reply = newcomer.answer(*signs, **changes).json
    assert [result["status"] for result in reply["results"]] == ["stored", "stored"]
    assert reply["start"]["waits_for"] == "practitioner"
    assert reply["bundle"] is None
    assert routines.latest(site.db, _case_of(site, newcomer).id) is None


def _waits_without_a_routine(site, newcomer, reply):
    assert reply["start"]["waits_for"] == "practitioner"
    assert routines.latest(site.db, _case_of(site, newcomer).id) is None


def test_who_was_asked_another_list_of_signs_waits(site, group):
    newcomer = Newcomer(site)
    newcomer.join(group.token)
    screening = screened(FIRST_DAY, seq=1)
    screening["body"]["asked_list"] = "0" * 16
    _waits_without_a_routine(
        site, newcomer, newcomer.sync(screening, event("intake_told", FIRST_DAY, TOLD, seq=2)).json
    )


def test_who_told_a_higher_usual_morning_first_and_then_a_low_one_waits(site, group):
    newcomer = Newcomer(site)
    newcomer.join(group.token)
    newcomer.answer(usual=6)
    lower = {"replaces": uuid7(1001 + newcomer.number * 2), "body": TOLD}
    _waits_without_a_routine(
        site, newcomer, newcomer.sync(event("entry_corrected", FIRST_DAY, lower, seq=3, id=uuid7(4000))).json
    )
    again = newcomer.sync(event("intake_told", FIRST_DAY, TOLD, seq=4, id=uuid7(4001)))
    _waits_without_a_routine(site, newcomer, again.json)


def test_the_word_of_one_practitioner_starts_nobody_who_is_with_another(site, group):
    newcomer = Newcomer(site)
    newcomer.join(group.token)
    client = cases.find(site.db, site.hedda.id, newcomer.joined["client"]["id"]).id
    signe = members.add(site.db, site.hedda.practice, "Signe", "signe@marrow.example", site.clock())
    with write(site.db):
        site.db.execute("UPDATE clients SET practitioner = ? WHERE id = ?", (signe, client))
    assert newcomer.answer().json["start"]["waits_for"] == "practitioner"
    assert routines.latest(site.db, client) is None


def test_who_was_started_is_not_started_a_second_time(site, group):
    newcomer = Newcomer(site)
    newcomer.join(group.token)
    newcomer.answer()
    newcomer.answer()
    assert routines.newest_number(site.db, _case_of(site, newcomer).id) == 1


def test_thirty_phones_join_at_once_each_is_asked_and_counted_and_the_next_finds_no_place(site, hedda, group):
    def go_through(number: int) -> int:
        newcomer = Newcomer(site, number)
        status = newcomer.join(group.token, key=f"key-{number}").status_code
        if status == 200:
            troubled = (SIGN,) if number % 10 == 0 else ()
            assert newcomer.answer(*troubled, usual=5 if number % 10 == 1 else 2).status_code == 200
        return status

    with ThreadPoolExecutor(8) as phones:
        statuses = list(phones.map(go_through, range(31)))
    assert sorted(statuses) == [200] * 30 + [410]
    names = {case.name for case in cases.of_practitioner(site.db, site.hedda.id)}
    assert {f"Tuesday, {number}" for number in range(1, 31)} <= names
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    assert "30 of 30 joined" in page
    started = sum(statuses[number] == 200 and number % 10 not in (0, 1) for number in range(31))
    assert f"<dt>training</dt><dd>{started}</dd>" in page
    assert f"<dt>waiting for you</dt><dd>{30 - started}</dd>" in page


def test_the_same_phone_takes_one_place_however_often_it_presses(site, group):
    newcomer = Newcomer(site)
    newcomer.join(group.token, key="one")
    first = newcomer.joined
    assert newcomer.join(group.token, key="one").json == first
    assert newcomer.offer(group.token).json["is_joined"] is True
    # The answer to the first press was lost, so the phone has no cookie and presses again.
    again = Newcomer(site)
    assert again.join(group.token, key="one").json["client"] == first["client"]
    assert groups.by_token(site.db, group.token).joined == 1


def test_two_people_with_a_phone_each_and_no_key_are_two(site, group):
    for _ in range(2):
        assert Newcomer(site).join(group.token).status_code == 200
    assert groups.by_token(site.db, group.token).joined == 2


def test_a_phone_of_another_client_stays_what_it_is(site, group):
    phone = Newcomer(site)
    phone.join(site.founder.token)
    assert phone.join(group.token).status_code == 409
    assert groups.by_token(site.db, group.token).joined == 0


def test_a_link_that_was_closed_is_over_or_was_guessed_lets_nobody_in(site, hedda, group):
    joined = Newcomer(site)
    joined.join(group.token)
    assert Newcomer(site).join(group.token[:-1]).status_code == 400
    hedda.open(f"/practice/groups/{group.public_id}")
    hedda.fill("/close", {}, post_to=f"/practice/groups/{group.public_id}/close")
    assert "Nobody can join by this link any more" in hedda.text
    late = Newcomer(site)
    assert late.offer(group.token).status_code == 410
    assert late.join(group.token).status_code == 410
    # Who has joined goes on.
    assert joined.answer().json["start"]["waits_for"] == "nothing"


def test_after_its_last_day_and_after_a_restore_a_link_is_over(site, group):
    site.clock.pass_by(days=15)
    assert Newcomer(site).join(group.token).status_code == 410
    site.clock.pass_by(days=-15)
    assert Newcomer(site).join(group.token).status_code == 200
    new_life.begin(site.db, [], site.clock())
    assert groups.by_token(site.db, group.token).is_open(site.clock()) is False


def test_a_group_needs_the_practitioners_word_and_a_form_sent_twice_makes_one(site, hedda):
    assert invite(hedda, started_unseen="") == ""
    assert "this is needed" in hedda.text
    assert hedda.form()["name"] == "Tuesday"
    hedda.open("/practice/groups/add")
    entries = hedda.form()
    for name, value in {"name": "Twice", "area": "wrist", "started_unseen": "yes"}.items():
        entries.setlist(name, [value])
    assert [hedda.send("/practice/groups/add", entries).status_code for _ in range(2)] == [303, 303]
    assert [group.name for group in groups.of_practitioner(site.db, site.hedda.id)] == ["Twice"]


@pytest.mark.parametrize(
    "changes", [{"most_people": "201"}, {"group_until": "2026-03-08"}, {"group_until": "2027-01-01"}]
)
def test_a_group_has_an_end_and_a_number(hedda, changes):
    assert invite(hedda, **changes) == ""
    assert hedda.page.status_code == 400


def test_nobody_but_its_practitioner_sees_a_group(site, hedda, group):
    other = site.visitor()
    assert other.open(f"/practice/groups/{group.public_id}").status_code == 303
    assert groups.find(site.db, site.hedda.id + 1, group.public_id) is None
    assert hedda.open("/practice/groups/unknown").status_code == 404


def test_the_page_singles_out_only_who_is_in_trouble(site, hedda, group):
    calm, held = Newcomer(site, 1), Newcomer(site, 2)
    for newcomer in (calm, held):
        newcomer.join(group.token)
        newcomer.answer()
    received = event("routine_received", TODAY, {"version": 1, "bundle": ""}, seq=3, id=uuid7(3000))
    raised = event("warning_raised", TODAY, {"sign": SIGN, "arms": ["right"]}, seq=4, id=uuid7(3001))
    assert [result["status"] for result in held.sync(received, raised).json["results"]] == ["stored", "stored"]
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    assert "Tuesday, 1" not in page
    assert "Tuesday, 2" in page
    assert "<dt>held</dt><dd>1</dd>" in page


def test_whose_log_cannot_be_read_is_named_and_the_others_are_counted(site, hedda, group):
    broken, calm = Newcomer(site, 1), Newcomer(site, 2)
    broken.join(group.token)
    broken.answer()
    with write(site.db):
        damage = "UPDATE events SET raw = substr(raw, 1, 40) WHERE client = ? AND seq = 1"
        site.db.execute(damage, (_case_of(site, broken).id,))
        site.db.execute("DELETE FROM summaries")
    assert hedda.open(f"/practice/groups/{group.public_id}").status_code == 200
    assert "Tuesday, 1 : the log cannot be read" in hedda.text
    calm.join(group.token)
    calm.answer()
    hedda.open(f"/practice/groups/{group.public_id}")
    assert "Tuesday, 1 : the log cannot be read" in hedda.text
    assert "1 person" in hedda.text
    assert "no longer with you" not in hedda.text

"""A paper diary typed in: entries of the practice that the fold counts, beside what a phone says of the same days."""

import json
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.builders import enrol, event, morning, session
from tests.cast import BELL_FOUNDER, FIRST_DAY, NOW
from webapp.records import events, routines
from webapp.sync.case.way_back import put_way, seal
from webapp.sync.folding.fold import accounts_of
from webapp.sync.from_paper import handing_out, typing_in
from webapp.sync.from_paper.typed_days import Collision, Said, collisions, on_record
from webapp.sync.from_paper.typing_in import MovedError, OnPaper, StopLoweredError, TooEarlyError
from webapp.sync.log.take import take_batch

BY = "Hedda Marrow"
WHOLE = 100


def day(count):
    return FIRST_DAY + timedelta(days=count)


@pytest.fixture
def on_paper(db, ansgar):
    """The bell founder, to whom the routine was handed out on paper on the first day."""
    assert handing_out.hand_out(db, ansgar.id, 1, FIRST_DAY, asked_signs=True, now=NOW)
    return ansgar


def week(*numbers, arm="right"):
    """The days from the first on: (morning, worst) each; a worst of None is a day without a session."""
    return {
        day(count): {arm: Said(pain, worst, None if worst is None else WHOLE)}
        for count, (pain, worst) in enumerate(numbers)
    }


def put(db, client, days, now=NOW, **other):
    paper = OnPaper(days, **{key: other.pop(key) for key in ("sport", "signs") if key in other})
    return typing_in.type_in(db, (client.id, client.public_id), paper, BY, now, **other)


def account(db, client, until):
    return accounts_of(db, client.id, until)["right"]


def responses(db, client, until):
    return [each.response for each in account(db, client, until).days]


def test_a_typed_week_counts_as_the_same_week_of_a_phone(db, on_paper):
    numbers = [(1, 2), (1, 1), (2, 2), (1, None), (2, 2), (6, 1), (1, None)]
    assert put(db, on_paper, week(*numbers), sheet_on=FIRST_DAY) == 12
    typed = account(db, on_paper, day(8))
    other = enrol(db, 1, replace(BELL_FOUNDER, public_id="phone00001"))
    sent = [event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=99)]
    for count, (pain, worst) in enumerate(numbers):
        sent.append(morning(day(count), pain, seq=2 * count + 1))
        sent += [] if worst is None else [session(day(count), worst, seq=2 * count + 2)]
    take_batch(db, other.id, "a phone", [json.dumps(each).encode() for each in sent], NOW)
    phone = account(db, other, day(8))
    assert [each.response for each in typed.days] == [each.response for each in phone.days]
    assert typed.state == phone.state
    assert "flared" in {each.response for each in typed.days}


def test_typing_the_same_week_twice_writes_nothing_new(db, on_paper):
    days = week((1, 2), (1, 1))
    assert put(db, on_paper, days, sheet_on=FIRST_DAY, sport={day(1): 60}) == 5
    before = events.newest_seq(db, on_paper.id)
    record = on_record(db, on_paper.id, FIRST_DAY, day(6))
    assert put(db, on_paper, days, sheet_on=FIRST_DAY, sport={day(1): 60}, seen="an old page") == 0
    assert events.newest_seq(db, on_paper.id) == before
    assert record.typed == days


def test_a_number_typed_wrong_is_corrected_and_one_taken_out_is_gone(db, on_paper):
    put(db, on_paper, week((1, 2), (7, 1)), sheet_on=FIRST_DAY)
    seal = on_record(db, on_paper.id, FIRST_DAY, day(1)).seal
    assert put(db, on_paper, week((1, 2), (1, None)), sheet_on=FIRST_DAY, seen=seal) == 2
    known = on_record(db, on_paper.id, FIRST_DAY, day(1)).typed
    assert known[day(1)]["right"] == Said(1)
    assert [each.kind for each in events.of_client(db, on_paper.id)].count("entry_corrected") == 2
    seal = on_record(db, on_paper.id, FIRST_DAY, day(1)).seal
    assert put(db, on_paper, week((1, 2), (1, 3)), sheet_on=FIRST_DAY, seen=seal) == 1
    assert on_record(db, on_paper.id, FIRST_DAY, day(1)).typed[day(1)]["right"] == Said(1, 3, WHOLE)


def test_what_another_wrote_meanwhile_is_not_written_over(db, on_paper):
    seal = on_record(db, on_paper.id, FIRST_DAY, day(0)).seal
    put(db, on_paper, week((1, 2)), sheet_on=FIRST_DAY)
    with pytest.raises(MovedError):
        put(db, on_paper, week((3, 2)), sheet_on=FIRST_DAY, seen=seal)
    assert on_record(db, on_paper.id, FIRST_DAY, day(0)).typed == week((1, 2))


def test_of_a_phone_s_number_and_paper_s_the_worse_counts_and_both_are_named(db, on_paper):
    sent = [morning(day(0), 2, seq=1), session(day(0), 4, seq=2)]
    take_batch(db, on_paper.id, "a phone", [json.dumps(each).encode() for each in sent], NOW)
    days = week((3, 1), (1, 1))
    record = on_record(db, on_paper.id, day(0), day(1))
    found = collisions(days, record, only_adds=False)
    assert found == [
        Collision(day(0), "right", "morning", 3, 2, by_phone=True),
        Collision(day(0), "right", "worst", 1, 4, by_phone=True),
    ]
    assert [each.counts for each in found] == [3, 4]
    assert put(db, on_paper, days, sheet_on=FIRST_DAY) == 3
    assert on_record(db, on_paper.id, day(0), day(0)).typed == {day(0): {"right": Said(3)}}
    known = account(db, on_paper, day(1)).facts
    assert (known[day(0)].during, known[day(0)].sessions) == (4, 1)
    assert known[day(0) - timedelta(days=1)].morning == 3


def test_a_table_makes_what_was_typed_in_before_worse_and_never_better(db, on_paper):
    put(db, on_paper, week((2, 3), (5, 6)), sheet_on=FIRST_DAY)
    put(db, on_paper, week((8, 1), (1, 7)))
    assert on_record(db, on_paper.id, day(0), day(1)).typed == week((8, 3), (5, 7))
    assert account(db, on_paper, day(2)).state.mode == "held"


def test_a_rating_of_a_session_of_which_nothing_was_done_counts_and_earns_nothing(db, on_paper):
    put(db, on_paper, {day(0): {"right": Said(1, 8)}}, sheet_on=FIRST_DAY)
    facts = account(db, on_paper, day(1)).facts[day(0)]
    assert (facts.during, facts.sessions, facts.done) == (8, 0, "none")
    assert account(db, on_paper, day(1)).state.mode == "held"


@pytest.mark.parametrize("said", [Said(sharp=True), Said(8), Said(worst=8)], ids=["sharp", "morning", "worst"])
def test_what_is_sharp_before_the_first_routine_holds_the_arm_from_its_first_day(db, on_paper, said):
    put(db, on_paper, {day(-2): {"right": said}, day(0): {"right": Said(1, 1, WHOLE)}})
    assert account(db, on_paper, day(1)).state.mode == "held"


def test_sport_on_paper_is_an_outing_where_a_way_back_is_open(db, on_paper):
    put(db, on_paper, {}, sport={day(0): 30})
    opened = {"ladder": "hard_grip", "step": 1, "gate": [], "reason": "All calm.", "by": BY}
    put_way(db, on_paper.id, "return_opened", day(1), opened, seal([]), now=NOW)
    put(db, on_paper, week((1, 1), (1, 1), (1, 1)), sport={day(1): 20}, sheet_on=FIRST_DAY)
    facts = account(db, on_paper, day(3)).facts
    assert [facts[day(count)].sport_minutes for count in range(3)] == [None, 20, None]
    assert [facts[day(count)].is_near_sport for count in range(4)] == [False, True, True, True]
    assert facts[day(1)].sport_worst is None
    seen = on_record(db, on_paper.id, day(1), day(1)).seal
    put(db, on_paper, {}, sport={day(1): 25}, seen=seen)
    assert account(db, on_paper, day(3)).facts[day(1)].sport_minutes == 25


@pytest.mark.parametrize(
    ("said", "signs"),
    [(Said(8), ()), (Said(None, 8, WHOLE), ()), (Said(sharp=True), ()), (Said(1), (("hot_swollen"),))],
    ids=["a morning of 8", "a session of 8", "sharp pain", "a sign"],
)
def test_what_stops_an_arm_stops_it_however_late_it_is_typed(db, on_paper, said, signs):
    put(db, on_paper, week((1, 1), (1, 1)), sheet_on=FIRST_DAY)
    assert account(db, on_paper, day(9)).state.mode == "training"
    put(db, on_paper, {day(2): {"right": said}}, signs=tuple((day(2), sign) for sign in signs))
    assert account(db, on_paper, day(9)).state.mode == "held"


@pytest.mark.parametrize("seen", [True, False], ids=["a week that was seen", "a table that only adds"])
def test_sharp_pain_on_paper_stops_the_arm_though_a_phone_or_an_earlier_week_says_nothing_of_it(db, on_paper, seen):
    take_batch(db, on_paper.id, "a phone", [json.dumps(session(day(0), 2, seq=2)).encode()], NOW)
    put(db, on_paper, {day(1): {"right": Said(None, 1, WHOLE)}}, sheet_on=FIRST_DAY)
    days = {day(0): {"right": Said(sharp=True)}, day(1): {"right": Said(None, 1, WHOLE, sharp=True)}}
    for on, arms in days.items():
        record = on_record(db, on_paper.id, on, on)
        assert collisions({on: arms}, record, only_adds=not seen) == []
        before = account(db, on_paper, on + timedelta(days=1)).facts[on].sharp
        put(db, on_paper, {on: arms}, seen=record.seal if seen else None)
        assert (before, account(db, on_paper, on + timedelta(days=1)).facts[on].sharp) == (False, True)
        assert put(db, on_paper, {on: arms}, seen="an old page" if seen else None) == 0
    assert account(db, on_paper, day(2)).state.mode == "held"


@pytest.mark.parametrize(
    "first", [Said(8), Said(None, 8, WHOLE), Said(sharp=True)], ids=["morning", "session", "sharp"]
)
def test_what_stopped_an_arm_is_typed_otherwise_on_its_own_day_only(db, on_paper, first):
    days, calm = {day(2): {"right": first}}, {day(2): {"right": Said(1, 1, WHOLE)}}
    for now, then in ((NOW, calm), (NOW, days)):
        put(db, on_paper, then, seen=on_record(db, on_paper.id, day(2), day(2)).seal, now=now)
    later, before = NOW + timedelta(days=1), events.newest_seq(db, on_paper.id)
    for empty_or_lower in (calm, {day(2): {"right": Said()}}):
        with pytest.raises(StopLoweredError) as error:
            put(db, on_paper, empty_or_lower, seen=on_record(db, on_paper.id, day(2), day(2)).seal, now=later)
        assert error.value.on == day(2)
    assert events.newest_seq(db, on_paper.id) == before
    assert account(db, on_paper, day(3)).state.mode == "held"


@pytest.mark.parametrize("said", [Said(1, 2, WHOLE, sharp=True), Said(9, 2, WHOLE), Said(1, 9, WHOLE)])
def test_what_paper_and_later_a_phone_say_the_same_of_stays_when_the_week_is_typed_on(db, on_paper, said):
    put(db, on_paper, {day(0): {"right": said}}, seen=on_record(db, on_paper.id, day(0), day(1)).seal)
    sent = [session(day(0), said.worst, sharp=said.sharp, seq=1), morning(day(0), said.morning, seq=2)]
    take_batch(db, on_paper.id, "a phone", [json.dumps(each).encode() for each in sent], NOW)
    later = {day(0): {"right": said}, day(1): {"right": Said(2)}}
    seal = on_record(db, on_paper.id, day(0), day(1)).seal
    assert put(db, on_paper, later, NOW + timedelta(days=2), seen=seal) > 0
    assert account(db, on_paper, day(2)).state.mode == "held"


def test_half_a_session_is_part_and_a_day_before_the_routine_is_refused_as_a_whole(db, on_paper):
    put(db, on_paper, {day(0): {"right": Said(1, 1, 50)}}, sheet_on=FIRST_DAY)
    assert responses(db, on_paper, day(1)) == ["unreported"]
    assert account(db, on_paper, day(1)).facts[day(0)].done == "part"
    early = {day(-1): {"right": Said(1, 1, WHOLE)}, day(1): {"right": Said(1)}}
    before = events.newest_seq(db, on_paper.id)
    with pytest.raises(TooEarlyError):
        put(db, on_paper, early)
    assert events.newest_seq(db, on_paper.id) == before


def test_a_routine_on_paper_counts_once_and_not_before_the_signs_were_asked(db, ansgar):
    with pytest.raises(handing_out.SignsUnaskedError):
        handing_out.hand_out(db, ansgar.id, 1, FIRST_DAY, asked_signs=False, now=NOW)
    assert accounts_of(db, ansgar.id, day(1)) == {}
    assert handing_out.hand_out(db, ansgar.id, 1, FIRST_DAY, asked_signs=True, now=NOW)
    assert not handing_out.hand_out(db, ansgar.id, 1, day(3), asked_signs=True, now=NOW)
    assert routines.find(db, ansgar.id, 1).received_on == FIRST_DAY.isoformat()
    assert account(db, ansgar, day(1)).version == 1
    assert handing_out.next_untyped(db, ansgar.id, day(30)) == FIRST_DAY


def test_both_sessions_of_a_day_of_the_first_week_are_one_whole_day(db, on_paper):
    put(db, on_paper, {day(0): {"right": Said(1, 1, WHOLE)}}, sheet_on=FIRST_DAY)
    stored = next(each for each in events.of_client(db, on_paper.id) if each.kind == "session_finished")
    report = json.loads(stored.raw)["body"]["arms"]["right"]
    assert report["dose"]["sessions"] == 2
    reps = {each["movement"]: each["reps"] for each in report["dose"]["sets"]}
    assert all(each["reps"] == 2 * reps[each["movement"]] and each["share"] == 1000 for each in report["sets"])

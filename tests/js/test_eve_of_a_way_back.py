"""What the last days before a way back bring, once the gate was looked at: the server's fold and the phone's scripts, side by side."""

import json
from datetime import date, timedelta
from typing import Any

import msgspec
import pytest

from tests.builders import event, morning, session
from tests.js.golden_bundles import almanac_of, bundle_of, plan_of
from tests.js.test_hostile_logs import wired
from webapp.dosing.closing import without_gap
from webapp.events.returning import WayOpened
from webapp.records.events import LoggedEvent
from webapp.sync.folding import anchors
from webapp.sync.folding.checkpoint import Resumed
from webapp.sync.folding.fold import Course
from webapp.sync.folding.returning import WayBack, fold_way
from webapp.sync.log.diary import read_diary
from webapp.sync.phone.way_start import wired_way

DAY = timedelta(days=1)
FIRST = date(2026, 3, 2)
OPENS = FIRST + 20 * DAY
GATE = OPENS - DAY
PLAN = "a man with pounds"
OPENED = WayOpened("hard_grip", 3, OPENS, "Ready.", "A name")
STANDING = """async (load, { bundle, phones, today }) => {
  const { armDays } = await load("pure/dose/today.js");
  const { standOn, wayOf } = await load("pure/returning/way.js");
  return phones.map(({ anchors, events }) => {
    const days = armDays(bundle, anchors, events, today);
    const { isAllowed, step, why } = standOn(bundle, wayOf(anchors, today), days, events, today);
    return [isAllowed, step, why];
  });
}"""
CALM_DAYS = [
    event("routine_received", FIRST, {"version": 1}, seq=1),
    *(session(FIRST + number * DAY, 1, seq=100 + number) for number in range(19)),
    *(morning(FIRST + number * DAY, 2, seq=200 + number) for number in range(1, 20)),
]
EVENING, DAWN = session(GATE, 1, seq=150), morning(OPENS, 2, seq=250)
SIGN = {"sign": "numb", "arms": ["right"], "by": "client"}
EVES = {
    "calm": ([EVENING, DAWN], True, 3, "return-start"),
    "an evening over the ceiling": ([session(GATE, 6, seq=150), DAWN], False, 1, "return-flare"),
    "a morning that flared": ([EVENING, morning(OPENS, 6, seq=250)], False, 1, "return-flare"),
    "sharp pain in the evening": ([session(GATE, 3, sharp=True, seq=150), DAWN], False, 1, "return-sharp"),
    "a sign in the evening": ([EVENING, event("warning_raised", GATE, SIGN, seq=300), DAWN], False, 1, "return-sharp"),
    "a flare told late, of before the gate": ([EVENING, DAWN, session(GATE - DAY, 6, seq=300)], False, 1, "return-rest-calm"),
    "a tender morning": ([EVENING, morning(OPENS, 3, seq=250)], False, 3, "return-wait"),
    "no morning yet": ([EVENING], False, 3, "return-first-morning"),
    "a sign on the first day itself": ([EVENING, DAWN, event("warning_raised", OPENS, SIGN, seq=300)], False, 3, "return-start"),
    "a session over the ceiling on the first day": ([EVENING, DAWN, session(OPENS, 6, seq=300)], False, 3, "return-start"),
}  # fmt: skip


def course_of(log: list[dict[str, Any]]) -> Course:
    """The server's course of a log."""
    plans = {1: plan_of(PLAN)}
    return Course(read_diary([LoggedEvent(0, "", "", "", "", json.dumps(each), "") for each in log], plans), plans)


def way_of(log: list[dict[str, Any]], until: date = OPENS) -> WayBack:
    """Where the way back stands, by the server."""
    return fold_way(course_of(log), OPENED, until)


def phone_of(early: list[dict[str, Any]], log: list[dict[str, Any]], on: date) -> dict[str, Any]:
    """A phone with a log, and with the anchors that the server made on a day out of what it had until then."""
    course = course_of(early)
    resumed = Resumed(course, course.first_day(on))
    day = anchors.anchor_day(resumed, on, 1)
    found, rows = anchors.anchors_from(resumed, day, 1), almanac_of(PLAN).rows
    assert all(without_gap(state) in rows for state in anchors.new_states(found))
    way = msgspec.to_builtins(wired_way(fold_way(course, OPENED, day - DAY)))
    return {"anchors": {arm: wired(each, rows) | {"way": way} for arm, each in found.items()}, "events": log}


@pytest.mark.parametrize("eve", EVES)
def test_the_first_step_is_offered_only_after_days_that_stayed_calm(ask, eve):
    more, is_allowed, step, rule = EVES[eve]
    log = [*CALM_DAYS, *more]
    way = way_of(log)
    assert (way.is_allowed, way.step, way.reasons) == (is_allowed, step, (rule,))
    phones = [phone_of(CALM_DAYS, log, GATE), phone_of(CALM_DAYS, log, OPENS), phone_of(log, log, OPENS)]
    answers = ask(STANDING, bundle=bundle_of(PLAN), phones=phones, today=str(OPENS))
    assert answers == [[is_allowed, step, [rule]]] * len(phones)


def test_days_before_the_first_neither_count_towards_the_step_s_week_nor_as_days_away():
    state = way_of([*CALM_DAYS, EVENING, DAWN]).state
    assert (state.go.days, state.go.settled, state.away, state.lately) == (0, 0, 0, 0)


def test_sport_of_an_earlier_way_back_yesterday_leaves_no_room_today(ask):
    played = event(
        "exposure_noted", GATE, {"what": "sport", "minutes": 5, "step": 1, "arms": {"right": {"worst": 1}}}, seq=300
    )
    log = [*CALM_DAYS, EVENING, played, DAWN]
    assert not way_of(log).is_allowed
    phones = [phone_of(CALM_DAYS, log, GATE), phone_of(log, log, OPENS)]
    assert [each[0] for each in ask(STANDING, bundle=bundle_of(PLAN), phones=phones, today=str(OPENS))] == [
        False,
        False,
    ]

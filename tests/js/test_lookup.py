"""The phone's look-up, as it is served, against the core: every state and response, every cell, every golden course."""

import json
from datetime import date

import pytest

from tests.js.golden_bundles import bundle_of, plan_of
from tests.vectors import write as golden
from webapp.dosing.plan import start_state
from webapp.dosing.responses import DURING_AXIS, RESPONSES, classify
from webapp.dosing.rules import close_day
from webapp.dosing.state import State
from webapp.sync.bundle import almanac_of

EVERY_MOVE = """async (load, { bundle }) => {
  const { nextOf, doseOf } = await load("pure/almanac.js");
  return bundle.almanac.dose.map((_, state) => ({
    work_j: doseOf(bundle, state).work_j, mode: doseOf(bundle, state).mode,
    moves: bundle.almanac.responses.map((response) => nextOf(bundle, state, response)),
  }));
}"""
EVERY_CELL = """async (load, { cube }) => {
  const { responseOf } = await load("pure/almanac.js");
  const ratings = [null, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  const durings = [{ sessions: 0, during: null }, ...ratings.map((during) => ({ sessions: 1, during }))];
  return durings.flatMap((day) => ratings.flatMap((morning) => ratings.map((before) =>
    responseOf({ cube }, { ...day, morning, sharp: false }, before))));
}"""
EVERY_DAY = """async (load, { bundle, anchor, days }) => {
  const { follow } = await load("pure/almanac.js");
  const facts = new Map(days.map(({ on, facts }) => [on, facts]));
  return days.map(({ next }) => {
    const { state, why, responseYesterday } = follow(bundle, anchor, facts, next);
    return { state, why, response: responseYesterday };
  });
}"""
RATINGS = (None, *range(11))


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_state_and_response_leads_where_the_core_leads(ask, name):
    plan = plan_of(name)
    almanac = almanac_of(plan)
    looked_up = ask(EVERY_MOVE, bundle=bundle_of(name))
    assert len(looked_up) == len(almanac.states)
    for state, told in zip(almanac.states, looked_up, strict=True):
        for response, move in zip(RESPONSES, told["moves"], strict=True):
            closing = close_day(plan, state, response)
            assert move["state"] == almanac.index(closing.state), (state, response)
            assert tuple(move["why"]) == closing.reasons, (state, response)


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_cell_of_the_cube_reads_as_the_core_classes_it(ask, name):
    tuning, client = golden.PLANS[name]
    expected = [
        classify(during, morning, before, client.usual, tuning)
        for during in DURING_AXIS
        for morning in RATINGS
        for before in RATINGS
    ]
    assert ask(EVERY_CELL, cube=bundle_of(name)["cube"]) == expected


def golden_courses():
    told = json.loads((golden.FOLDER / "courses.json").read_text(encoding="utf-8"))
    return [pytest.param(course, id=f"{course['plan']}, {course['mood']}") for course in told]


@pytest.mark.parametrize("course", golden_courses())
def test_every_golden_course_comes_out_the_same_day_for_day(ask, course):
    plan = plan_of(course["plan"])
    almanac = almanac_of(plan)
    first = course["days"][0]["on"]
    start = almanac.index(start_state(plan))
    anchor = {"on": first, "before": None, "states": [start] * len(RESPONSES)}
    days = [
        {**day, "next": date.fromordinal(date.fromisoformat(day["on"]).toordinal() + 1).isoformat()}
        for day in course["days"]
    ]
    told = ask(EVERY_DAY, bundle=bundle_of(course["plan"]), anchor=anchor, days=days)
    for day, found in zip(course["days"], told, strict=True):
        assert found["state"] == almanac.index(State(**day["state"])), day["on"]
        assert (found["response"], found["why"]) == (day["response"], day["reasons"]), day["on"]

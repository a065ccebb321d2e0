"""The phone's look-up, run in the browser, against the core: every state and response, every cell, every golden course."""

import json
from datetime import date

import pytest

from tests.rules.tree import ROOT
from tests.vectors import write as golden
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.responses import DURING_AXIS, RESPONSES, classify
from webapp.dosing.rules import close_day
from webapp.dosing.settings import Routine
from webapp.dosing.state import State
from webapp.library.shelf import the_shelf
from webapp.sync.bundle import Prescribed, almanac_of, make_bundle
from webapp.words import words_for

EVERY_MOVE = """async ({ script, bundle }) => {
  const { nextOf, doseOf } = await import(script);
  return bundle.almanac.dose.map((_, state) => ({
    work_j: doseOf(bundle, state).work_j, mode: doseOf(bundle, state).mode,
    moves: bundle.almanac.responses.map((response) => nextOf(bundle, state, response)),
  }));
}"""
EVERY_CELL = """async ({ script, cube }) => {
  const { responseOf } = await import(script);
  const ratings = [null, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  const durings = [{ sessions: 0, during: null }, ...ratings.map((during) => ({ sessions: 1, during }))];
  return durings.flatMap((day) => ratings.flatMap((morning) => ratings.map((before) =>
    responseOf({ cube }, { ...day, morning, sharp: false }, before))));
}"""
EVERY_DAY = """async ({ script, bundle, anchor, days }) => {
  const { follow } = await import(script);
  const facts = new Map(days.map(({ on, facts }) => [on, facts]));
  return days.map(({ next }) => {
    const { state, why, responseYesterday } = follow(bundle, anchor, facts, next);
    return { state, why, response: responseYesterday };
  });
}"""
RATINGS = (None, *range(11))


def plan_of(name):
    """The plan of a golden course, with the movements that a bundle needs."""
    tuning, client = golden.PLANS[name]
    return make_plan(Routine("Vectors", "wrist", tuning), client)


def bundle_of(plan):
    return make_bundle(Prescribed(plan, 1), words_for("en"), the_shelf())


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_state_and_response_leads_where_the_core_leads(page, script, name):
    plan = plan_of(name)
    almanac = almanac_of(plan)
    looked_up = page.evaluate(EVERY_MOVE, {"script": script, "bundle": bundle_of(plan)})
    assert len(looked_up) == len(almanac.states)
    for state, told in zip(almanac.states, looked_up, strict=True):
        for response, move in zip(RESPONSES, told["moves"], strict=True):
            closing = close_day(plan, state, response)
            assert move["state"] == almanac.index(closing.state), (state, response)
            assert tuple(move["why"]) == closing.reasons, (state, response)


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_cell_of_the_cube_reads_as_the_core_classes_it(page, script, name):
    tuning, client = golden.PLANS[name]
    expected = [
        classify(during, morning, before, client.usual, tuning)
        for during in DURING_AXIS
        for morning in RATINGS
        for before in RATINGS
    ]
    assert page.evaluate(EVERY_CELL, {"script": script, "cube": bundle_of(plan_of(name))["cube"]}) == expected


def golden_courses():
    told = json.loads((ROOT / "tests/vectors/courses.json").read_text(encoding="utf-8"))
    return [pytest.param(course, id=f"{course['plan']}, {course['mood']}") for course in told]


@pytest.mark.parametrize("course", golden_courses())
def test_every_golden_course_comes_out_the_same_day_for_day(page, script, course):
    plan = plan_of(course["plan"])
    almanac = almanac_of(plan)
    first = course["days"][0]["on"]
    start = almanac.index(start_state(plan))
    anchor = {"on": first, "before": None, "states": [start] * len(RESPONSES)}
    days = [
        {**day, "next": date.fromordinal(date.fromisoformat(day["on"]).toordinal() + 1).isoformat()}
        for day in course["days"]
    ]
    told = page.evaluate(EVERY_DAY, {"script": script, "bundle": bundle_of(plan), "anchor": anchor, "days": days})
    for day, found in zip(course["days"], told, strict=True):
        assert found["state"] == almanac.index(State(**day["state"])), day["on"]
        assert (found["response"], found["why"]) == (day["response"], day["reasons"]), day["on"]

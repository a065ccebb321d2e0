"""The phone's look-up against the core: every row and response, every cell of the cube, every golden course."""

import json
from datetime import date, timedelta
from itertools import product

import pytest

from tests.js.golden_bundles import almanac_of, bundle_of, plan_of, wired
from tests.vectors import write as golden
from webapp.dosing.almanac import Position
from webapp.dosing.closing import close_day
from webapp.dosing.plan import start_state
from webapp.dosing.release import Return, released
from webapp.dosing.responses import DONE_AXIS, IDLE, KNOWN_AXIS, RESPONSES, classify
from webapp.dosing.state import MOST_GAP_DAYS, State

EVERY_MOVE = """async (load, { bundle, positions, responses }) => {
  const { nextOf, doseOf } = await load("pure/dose/almanac.js");
  return positions.map(([row, gapDays, gapRung]) => [doseOf(bundle, { row }).mode, responses.map((response) => {
    const { position, why } = nextOf(bundle, { row, gapDays, gapRung }, response);
    return [position.row, position.gapDays, position.gapRung, why];
  })]);
}"""
EVERY_RELEASE = """async (load, { bundle, rows, chosen }) => {
  const { releasedFrom } = await load("pure/dose/almanac.js");
  return rows.map((row) => chosen.map(([rung, ease]) => {
    const start = { position: { row, gapDays: 0, gapRung: 0 }, why: [] };
    return releasedFrom(bundle, start, { rung, range: bundle.ranges[ease] }).position;
  }));
}"""
EVERY_CELL = """async (load, { bundle, dones }) => {
  const { responseOf } = await load("pure/dose/almanac.js");
  const ratings = [null, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  return dones.flatMap((done) => ratings.flatMap((during) => ratings.flatMap((morning) => ratings.map((before) =>
    responseOf(bundle, { sessions: 1, done, during, isUnrated: false, morning, sharp: false }, before)))));
}"""
EVERY_DAY = """async (load, { bundle, anchor, days, releases }) => {
  const { follow } = await load("pure/dose/course.js");
  const facts = new Map(days.map(({ on, facts: { is_unrated, ...known } }) => [on, { ...known, isUnrated: is_unrated }]));
  return days.map(({ next }) => {
    const { position, why, responseYesterday } = follow(bundle, anchor, facts, next, new Map(Object.entries(releases)));
    return { position: [position.row, position.gapDays, position.gapRung], why, response: responseYesterday };
  });
}"""
# The release that the golden courses get every ten days (see tests/vectors/write.py).
RELEASE = {"rung": 2, "range": 0.75}
GAPS = (0, 1, 2, 5, 6, 7, 12, 13, 14, 26, 27, MOST_GAP_DAYS)


def as_json(closed):
    (row, gap_days, gap_rung), reasons = closed
    return [row, gap_days, gap_rung, list(reasons)]


@pytest.mark.walk
@pytest.mark.parametrize("name", golden.PLANS)
def test_every_row_and_response_leads_where_the_core_leads(ask, name):
    plan, almanac = plan_of(name), almanac_of(name)
    positions = [Position(row) for row in range(len(almanac.states))]
    looked_up = ask(EVERY_MOVE, bundle=bundle_of(name), positions=positions, responses=RESPONSES)
    for position, (mode, moves) in zip(positions, looked_up, strict=True):
        assert mode == almanac.dose_at(position.row).mode
        for response, move in zip(RESPONSES, moves, strict=True):
            closing = close_day(plan, almanac.states[position.row], response)
            assert move == as_json((almanac.position(closing.state), closing.reasons)), (position, response)


@pytest.mark.walk
@pytest.mark.parametrize("name", golden.PLANS)
def test_every_row_moves_as_the_core_says_on_every_day_of_a_gap_that_decides_something(ask, name):
    almanac = almanac_of(name)
    rungs = [state.rung for state in almanac.states]
    positions = [
        Position(row, gap_days, 0 if gap_days in (0, *range(14, 29)) else min(rung + row % 3, plan_of(name).ladder.top))
        for (row, rung), gap_days in product(enumerate(rungs), GAPS)
    ]
    looked_up = ask(EVERY_MOVE, bundle=bundle_of(name), positions=positions, responses=IDLE)
    for position, (_, moves) in zip(positions, looked_up, strict=True):
        assert moves == [as_json(almanac.close(position, response)) for response in IDLE], position


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_release_of_every_hold_leads_where_the_core_leads(ask, name):
    plan, almanac = plan_of(name), almanac_of(name)
    held = [state for state in almanac.rows if state.mode == "held"]
    chosen = [Return(rung, ease) for rung in range(1, plan.ladder.top + 2) for ease in range(3)]
    rows = [almanac.rows[state] for state in held]
    looked_up = ask(EVERY_RELEASE, bundle=bundle_of(name), rows=rows, chosen=chosen)
    for state, answers in zip(held, looked_up, strict=True):
        for each, answer in zip(chosen, answers, strict=True):
            assert list(answer.values()) == wired(name, released(plan, state, each)), (state, each)


@pytest.mark.parametrize("name", golden.PLANS)
def test_every_cell_of_the_cube_reads_as_the_core_classes_it(ask, name):
    tuning, client = golden.PLANS[name]
    cells = product(DONE_AXIS, KNOWN_AXIS, KNOWN_AXIS, KNOWN_AXIS)
    expected = [classify(*cell, client.usual, tuning) for cell in cells]
    assert ask(EVERY_CELL, bundle=bundle_of(name), dones=DONE_AXIS) == expected


@pytest.mark.parametrize("name", golden.PLANS)
def test_the_table_of_work_has_all_that_may_be_played_and_adds_up_to_every_dose(name):
    bundle = bundle_of(name)
    joules = {(movement, kg, share): j for movement, rows in bundle["rep_work"].items() for kg, share, j in rows}
    sets = [each for dose in bundle["doses"] for each in dose["sets"]]
    played = product(bundle["rep_work"], {0, *(each["load_kg"] for each in sets)}, bundle["ranges"])
    assert sets
    assert all(joules[each] > 0 for each in played)
    for dose in bundle["doses"]:
        one_session = sum(
            each["reps"] * joules[each["movement"], each["load_kg"], each["range"]] for each in dose["sets"]
        )
        assert dose["work_j"] == pytest.approx(dose["sessions"] * one_session, abs=0.01), dose


def golden_courses():
    courses = json.loads((golden.FOLDER / "courses.json").read_text(encoding="utf-8"))
    return [pytest.param(course, id=f"{course['plan']}, {course['mood']}") for course in courses]


@pytest.mark.parametrize("course", golden_courses())
def test_every_golden_course_comes_out_the_same_day_for_day(ask, course):
    name, first = course["plan"], course["days"][0]["on"]
    states = [wired(name, start_state(plan_of(name)))] * len(RESPONSES)
    anchor = {"on": first, "mornings": [None] * 3, "states": states, "why": [[]] * len(RESPONSES)}
    days = [
        {**day, "next": date.fromordinal(date.fromisoformat(day["on"]).toordinal() + 1).isoformat()}
        for day in course["days"]
    ]
    releases = {(golden.START + timedelta(number)).isoformat(): RELEASE for number in range(10, 70, 10)}
    followed = ask(EVERY_DAY, bundle=bundle_of(name), anchor=anchor, days=days, releases=releases)
    for day, found in zip(course["days"], followed, strict=True):
        assert found["position"] == wired(name, State(**day["state"])), day["on"]
        assert (found["response"], found["why"]) == (day["response"], day["reasons"]), day["on"]

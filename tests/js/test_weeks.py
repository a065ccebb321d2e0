"""The plots of the weeks against invented logs: what is drawn and what the tables say is what a plain count of the log gives."""

import json
from datetime import date, timedelta

import pytest

from tests.amount import drawn
from tests.js.golden_bundles import almanac_of, bundle_of, plan_of, wired
from tests.js.hostile_logs import ARMS, FIRST, hostile_log
from tests.js.plain_fold import Days, corrected_entries, releases
from tests.vectors import write as golden
from webapp.dosing.closing import close_day
from webapp.dosing.course import DayFacts, classed
from webapp.dosing.dose import dose
from webapp.dosing.plan import start_state
from webapp.dosing.responses import ENOUGH

DRAW = """async (load, { bundle, events, first, from, to, sheet }) => {
  const [{ pastDays }, { bandsOf }, { morningsPlot }, { workPlot, stairPlot }, tables] = await Promise.all(["pure/weeks/past_days.js",
    "pure/weeks/bands.js", "pure/weeks/mornings_plot.js", "pure/weeks/work_plots.js", "weeks/tables.js"].map(load));
  const days = pastDays(bundle, events, first, from, to);
  const same = (key) => String(key);
  const names = { week: same, version: same, bands: {}, rows: {}, joules: (work) => `${work}`, reps: same, load: same, range: same, turn: same };
  const words = { say: (key) => key, fill: (key, gaps) => Object.values(gaps).join("/"), number: same, date: same, list: (all) => all.join("+") };
  return Object.fromEntries(bundle.arms.map((arm) => [arm, {
    days: days.map(({ on, arms, loads, version, released }) => ({ on, ...arms[arm], loads, version, released: released.includes(arm) })),
    mornings: morningsPlot(days, arm, { bands: bandsOf(bundle), names, today: to }, sheet).shapes,
    work: workPlot(days, arm, names, sheet)?.shapes ?? [],
    morning_rows: tables.morningsTable(days, arm, names, words).rows,
    work_rows: tables.workTable(days, arm, names, words).rows,
  }]));
}"""
CLASSED = """async (load, { bundle, events, first, to }) => {
  const [{ pastDays }, { responseTo }] = [await load("pure/weeks/past_days.js"), await load("pure/weeks/day_account.js")];
  const days = pastDays(bundle, events, first, first, to);
  return Object.fromEntries(bundle.arms.map((arm) => [arm, days.map((day) => responseTo(bundle, events, day, arm))]));
}"""
BANDS = """async (load, { bundle }) => (await load("pure/weeks/bands.js")).bandsOf(bundle)"""
AHEAD = """async (load, { bundle, rows }) => {
  const [{ nextSteps }, { doseOf }] = [await load("pure/weeks/next_steps.js"), await load("pure/dose/almanac.js")];
  return rows.map((row) => {
    const position = { row, gapDays: 0, gapRung: 0 };
    return nextSteps(bundle, { position, dose: doseOf(bundle, position) }, 3).map(({ days, dose }) => [days, dose.sets.map(({ reps, range }) => [reps, range])]);
  });
}"""
NAME = "a man with pounds"
SHEET = {"width": 328, "em": 15}
UNIT, THIN = 0.62 * 15, 3
WINDOW = 28
DAY = timedelta(days=1)


def as_the_routine_has_it(log, bundle):
    """The same log, with a movement and a weight of the routine for each that is not in it."""
    weight = max(row[0] for rows in bundle["rep_work"].values() for row in rows)
    text = (
        json.dumps(log.events)
        .replace('"thumb_down"', '"little_finger_up"')
        .replace('"load_kg": 0.5', f'"load_kg": {weight}')
    )
    log.events = json.loads(text)
    return log


def column_heights(shapes, names):
    """The height of each column by the middle of its place, in the order of the days."""
    found = {}
    for shape in shapes:
        at = shape["at"]
        if at.get("class") not in names:
            continue
        if shape["tag"] == "rect":
            found[round(at["x"] + at["width"] / 2)] = at["height"]
        else:
            corners = [tuple(map(float, corner.split(","))) for corner in at["points"].split()]
            across, heights = zip(*corners, strict=True)
            found[round((min(across) + max(across)) / 2)] = max(heights) - min(heights)
    return [found[x] for x in sorted(found)]


def work_of(log, bundle, arm, day):
    """The joules of a day by the bundle's table; None without a session."""
    table = {(name, kg, share): each for name, rows in bundle["rep_work"].items() for kg, share, each in rows}
    own = [
        event["body"]["arms"][arm]["sets"]
        for event in corrected_entries(log)
        if event["kind"] == "session_finished" and event["on"] == day and arm in event["body"]["arms"]
    ]
    worked = [sets for sets in own if any(each["reps"] for each in sets)]
    if not worked:
        return None
    return sum(
        each["reps"] * table[each["movement"], each["load_kg"], each["range"]] for sets in worked for each in sets
    )


@pytest.mark.parametrize("seed", range(drawn(3, 40)))
def test_every_column_and_every_row_is_what_the_log_says(ask, seed):
    bundle = {**bundle_of(NAME), "arms": list(ARMS)}
    log = as_the_routine_has_it(hostile_log(seed, 40), bundle)
    begin = FIRST + timedelta(days=(seed % 3) * 5)
    days = [begin + DAY * count for count in range(WINDOW)]
    spans = {"first": FIRST.isoformat(), "from": begin.isoformat(), "to": days[-1].isoformat()}
    found = ask(DRAW, bundle=bundle, events=log.events, sheet=SHEET, **spans)
    for arm in bundle["arms"]:
        shown, plain = found[arm], Days(log, arm)
        mornings = [plain.morning(day - DAY) for day in days]
        assert [day["morning"] for day in shown["days"]] == mornings
        heights = [max(pain * UNIT, THIN) for pain in mornings if pain is not None]
        assert column_heights(shown["mornings"], {"plot-pain", "plot-over"}) == pytest.approx(heights, abs=0.11)
        missing = [day for day, pain in zip(days[:-1], mornings, strict=False) if pain is None and day > FIRST]
        assert len([each for each in shown["mornings"] if each["at"].get("class") == "plot-missing"]) == len(missing)
        assert [row[1] for row in shown["morning_rows"]] == [
            "weeks.unknown" if pain is None else str(pain) for pain in mornings
        ]
        works = [work_of(log, bundle, arm, day) for day in days]
        assert [day["workJ"] for day in shown["days"]] == pytest.approx(works)
        most = max((work for work in works if work), default=0)
        expected = [work * 5 * 15 / most for work in works if work is not None] if most else []
        assert column_heights(shown["work"], {"plot-done"}) == pytest.approx(expected, abs=0.11)
        assert [float(row[1]) for row in shown["work_rows"]] == pytest.approx(
            [work for work in works if work is not None]
        )
        assert [day["done"] for day in shown["days"]] == [plain.done(day) for day in days]
        assert {date.fromisoformat(day["on"]) for day in shown["days"] if day["released"]} == set(
            releases(log, arm)
        ) & set(days)


@pytest.mark.parametrize("seed", range(drawn(3, 40)))
def test_an_earlier_day_is_classed_as_the_rules_say(ask, seed):
    bundle, log = {**bundle_of(NAME), "arms": list(ARMS)}, hostile_log(seed, 60)
    days = [FIRST + DAY * count for count in range(60)]
    found = ask(CLASSED, bundle=bundle, events=log.events, first=FIRST.isoformat(), to=days[-1].isoformat())
    for arm in ARMS:
        plain = Days(log, arm)
        assert found[arm] == [plain.response(plan_of(NAME), day, asks=True) for day in days]


@pytest.mark.parametrize("name", golden.PLANS)
def test_the_bands_beside_the_mornings_are_those_of_the_core(ask, name):
    """A morning no higher than the ones before it, after a whole session that was rated 0."""
    plan = plan_of(name)
    called = {"tender_over": "tender"}
    classes = [classed(plan, DayFacts(1, ENOUGH, 0, morning=morning), morning)[0] for morning in range(11)]
    shown = ask(BANDS, bundle=bundle_of(name))
    assert [band["name"] for band in shown for _ in range(band["low"], band["high"] + 1)] == [
        called.get(each, each) for each in classes
    ]


def ahead_by_the_core(plan, state, most):
    """What the next changes would ask, if every day were settled, and after how many days each comes."""
    found, days = [], 0
    today = dose(plan, state)
    for _ in range(200):
        state, days = close_day(plan, state, "settled").state, days + 1
        after = dose(plan, state)
        levers = [
            (each.sessions, [(step.reps, step.load_kg, step.range) for step in each.sets]) for each in (today, after)
        ]
        if levers[0] != levers[1]:
            found.append([days, [[step.reps, step.range] for step in after.sets]])
            today, days = after, 0
        if len(found) == most:
            return found
    return found


@pytest.mark.parametrize("name", golden.PLANS)
def test_the_next_steps_are_those_of_the_core_while_days_are_settled(ask, name):
    plan, table = plan_of(name), almanac_of(name)
    states = [state for state in table.states if state.mode == "training"][:: max(1, len(table.states) // 40)]
    states.append(start_state(plan, bundle_of(name)["arms"][0]))
    shown = ask(AHEAD, bundle=bundle_of(name), rows=[wired(name, state)[0] for state in states])
    assert shown == [ahead_by_the_core(plan, state, 3) for state in states]
    assert any(steps for steps in shown)

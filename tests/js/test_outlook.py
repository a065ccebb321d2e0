"""The lines of 'Tomorrow depends' against the core: for every fifth row, every pair of ratings."""

from itertools import product

import pytest

from tests.js.golden_bundles import almanac_of, bundle_of, plan_of
from tests.vectors import write as golden
from webapp.dosing.closing import close_day
from webapp.dosing.course import DayFacts, classed
from webapp.dosing.dose import dose
from webapp.dosing.responses import ENOUGH, RESPONSES
from webapp.dosing.state import MODES

BRANCHES = """async (load, { bundle, before, each }) => {
  const [{ branchesOf }, { doseOf, NOTHING_YET }] = [await load("pure/dose/outlook.js"), await load("pure/dose/almanac.js")];
  return bundle.almanac.mode.map((mode, row) => row % each ? null : branchesOf(bundle, {
    position: { row, gapDays: 0, gapRung: 0 }, before, facts: NOTHING_YET, dose: doseOf(bundle, { row }), done: 0,
    isOffered: mode === 'training',
  })?.map(({ dose, during, morning, isBest }) => ({
    during, morning, isBest, asks: [dose.mode, dose.sessions, dose.sets.map(({ reps, load_kg, range }) => [reps, Math.round(load_kg * 1e4) / 1e4, range])],
  })));
}"""
BEFORE = 1
RATINGS = range(11)
MOST_LINES = 4
EACH = 5


def asks_of(day_dose):
    return [
        day_dose.mode,
        day_dose.sessions,
        [[each.reps, round(each.load_kg, 4), each.range] for each in day_dose.sets],
    ]


def tomorrows(plan, state):
    """Return the next day's dose by the response to this day."""
    return {response: asks_of(dose(plan, close_day(plan, state, response).state)) for response in RESPONSES}


def grid(plan, is_training):
    """Return the response to each pair of ratings, on a day with a whole session or without a session."""
    durings = RATINGS if is_training else (0,)
    facts = {
        pair: DayFacts(1, ENOUGH, pair[0], morning=pair[1]) if is_training else DayFacts(morning=pair[1])
        for pair in product(durings, RATINGS)
    }
    return {pair: classed(plan, known, BEFORE)[0] for pair, known in facts.items()}


def is_in(rating, span):
    return span is not None and span["low"] <= rating <= span["high"]


def told_by(branches, during, morning):
    """Return the line that counts for a pair of ratings: the last line that one of the ratings leads to, else the best line."""
    fitting = [
        branch
        for branch in branches
        if not branch["isBest"] and (is_in(during, branch["during"]) or is_in(morning, branch["morning"]))
    ]
    return (fitting or branches)[-1 if fitting else 0]


@pytest.mark.walk
@pytest.mark.parametrize("name", golden.PLANS)
def test_a_few_lines_say_of_every_pair_of_ratings_what_tomorrow_asks(ask, name):
    plan = plan_of(name)
    answers = ask(BRANCHES, bundle=bundle_of(name), before=BEFORE, each=EACH)
    grids = {is_training: grid(plan, is_training) for is_training in (True, False)}
    seen = set()
    for state, branches in zip(almanac_of(name).states, answers, strict=True):
        if branches is None:
            continue
        assert 1 <= len(branches) <= MOST_LINES, state
        seen.add(state.mode)
        after = tomorrows(plan, state)
        for pair, response in grids[state.mode == "training"].items():
            assert told_by(branches, *pair)["asks"] == after[response], (state, pair)
    assert seen == set(MODES)

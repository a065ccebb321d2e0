"""Which releases of a hold count: the phone's look-up, run in the browser, against the server's reading of the same log."""

import json
from datetime import date

import pytest

from tests import builders
from tests.vectors import write as golden
from webapp.dosing.plan import make_plan, released, start_state
from webapp.dosing.responses import RESPONSES
from webapp.dosing.rules import close_day
from webapp.dosing.settings import Routine
from webapp.library.shelf import the_shelf
from webapp.records.events import LoggedEvent
from webapp.sync.bundle import Prescribed, almanac_of, make_bundle
from webapp.sync.diary import read_diary
from webapp.words import words_for


def the_plan():
    tuning, client = next(iter(golden.PLANS.values()))
    return make_plan(Routine("Vectors", "wrist", tuning), client)


def the_bundle():
    return make_bundle(Prescribed(the_plan(), 1), words_for("en"), the_shelf())


RELEASES = """async ({ script, bundle, events }) => {
  const { releasesOf } = await import(script.replace("almanac.js", "daybook.js"));
  return Object.fromEntries(releasesOf(bundle, events, "right"));
}"""
FIRST = date(2026, 5, 14)


def late_reports():
    """A day's sharp report, a release that read it, and what may come to the log after that."""
    day = {number: date.fromordinal(FIRST.toordinal() + number) for number in range(4)}
    known = builders.session(day[0], 9, seq=1)
    calm = builders.session(day[1], 2, seq=2)
    covers = {"arms": {"right": {"rung": 2, "covers": [known["id"]]}}}
    freed = builders.event("hold_released", day[2], covers, seq=3)
    body = builders.session(day[1], 8)["body"]
    told = {
        "nothing": None,
        "a rating of 7 before it": builders.session(day[1], 7, seq=9),
        "a rating of 8 before it": builders.session(day[1], 8, seq=9),
        "a sharp morning of its day": builders.morning(day[2], 2, sharp=True, seq=9),
        "a sharp session of its day": builders.session(day[2], 9, seq=9),
        "a sharp report of the other arm": builders.session(day[1], 9, arms=("left",), seq=9),
        "a warning sign": builders.event("warning_raised", day[0], {"sign": "numb", "arms": ["right"]}, seq=9),
        "a correction": builders.event("entry_corrected", day[3], {"replaces": calm["id"], "body": body}, seq=9),
        "a withdrawal": builders.event("entry_corrected", day[3], {"replaces": known["id"], "body": None}, seq=9),
    }
    return [pytest.param([known, calm, freed, *filter(None, [late])], id=what) for what, late in told.items()]


@pytest.mark.parametrize("events", late_reports())
def test_a_phone_and_the_server_agree_on_which_releases_count(page, script, events):
    logged = [LoggedEvent(0, "", "", "", "", json.dumps(event), "") for event in events]
    folded = {on.isoformat(): rung for on, rung in read_diary(logged, ()).releases.get("right", {}).items()}
    for told in (events, events[::-1]):
        assert page.evaluate(RELEASES, {"script": script, "bundle": the_bundle(), "events": told}) == folded


UNREPORTED = """async ({ script, bundle, anchor, events }) => {
  const { armDays, dependsOnMorning } = await import(script.replace("almanac.js", "today.js"));
  const [day] = armDays(bundle, { right: anchor }, events, anchor.on);
  return { mode: day.dose.mode, why: day.why, asks: dependsOnMorning(bundle, anchor, events, anchor.on, "right") };
}"""


def test_a_release_holds_on_the_phone_until_a_morning_says_otherwise(page, script):
    plan = the_plan()
    almanac, bundle = almanac_of(plan), the_bundle()
    sharp, calm, freed = late_reports()[0].values[0]
    held, free = almanac.index(close_day(plan, start_state(plan), "sharp").state), almanac.index(released(plan, 2))
    on = freed["on"]
    states = [held if response == "sharp" else free for response in RESPONSES]
    anchor = {"on": on, "before": None, "states": states}
    ask = {"script": script, "bundle": bundle, "anchor": anchor}
    quiet = page.evaluate(UNREPORTED, {**ask, "events": [sharp, calm, freed]})
    assert (quiet["mode"], quiet["asks"]) == ("training", True)
    woke = builders.morning(date.fromisoformat(on), 8, seq=9)
    assert page.evaluate(UNREPORTED, {**ask, "events": [sharp, calm, freed, woke]})["mode"] == "held"
    read = json.loads(json.dumps(freed))
    read["body"]["arms"]["right"]["covers"].append(woke["id"])
    told = page.evaluate(UNREPORTED, {**ask, "events": [sharp, calm, read, woke]})
    assert (told["mode"], told["why"]) == ("training", ["released"])

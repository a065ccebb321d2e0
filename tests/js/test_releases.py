"""Which releases of a hold count: the phone against the server, for the same log."""

import json
from datetime import date

import pytest

from tests import builders
from tests.js.golden_bundles import bundle_of, plan_of, wired
from webapp.dosing.closing import close_day
from webapp.dosing.plan import start_state
from webapp.dosing.release import Return, released
from webapp.dosing.responses import RESPONSES
from webapp.records.events import LoggedEvent
from webapp.sync.log.diary import read_diary

PLAN = "a man with pounds"
RELEASES = """async (load, { bundle, events }) => {
  const { releasesOf } = await load("pure/dose/daybook.js");
  const plain = ([on, { rung, range }]) => [on, [rung, bundle.ranges.indexOf(range)]];
  return [events, [...events].reverse()].map((log) => Object.fromEntries([...releasesOf(bundle, log, "right")].map(plain)));
}"""
FIRST = date(2026, 5, 14)


def late_reports():
    """Return logs: a sharp report, a release that covers it, and an entry that arrives later."""
    day = {number: date.fromordinal(FIRST.toordinal() + number) for number in range(4)}
    known = builders.session(day[0], 9, seq=1)
    calm = builders.session(day[1], 2, seq=2)
    covers = {"arms": {"right": {"rung": 2, "range": 0.75, "covers": [known["id"]], "reason": "", "by": ""}}}
    freed = builders.event("hold_released", day[2], covers, seq=3)
    body = builders.session(day[1], 8)["body"]
    stories = {
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
    return [pytest.param([known, calm, freed, *filter(None, [late])], id=story) for story, late in stories.items()]


@pytest.mark.parametrize("events", late_reports())
def test_a_phone_and_the_server_agree_on_which_releases_count(ask, events):
    logged = [LoggedEvent(0, "", "", "", "", json.dumps(event), "") for event in events]
    releases = read_diary(logged, ()).releases.get("right", {})
    folded = {on.isoformat(): list(chosen) for on, chosen in releases.items()}
    assert ask(RELEASES, bundle=bundle_of(PLAN), events=events) == [folded, folded]


UNREPORTED = """async (load, { bundle, anchor, events }) => {
  const { armDays, dependsOnMorning } = await load("pure/dose/today.js");
  const [day] = armDays(bundle, { right: anchor }, events, anchor.on);
  return { mode: day.dose.mode, why: day.why, asks: dependsOnMorning(bundle, anchor, events, anchor.on, "right") };
}"""


CHOSEN = Return(2, 1)
START = start_state(plan_of(PLAN))
HELD = close_day(plan_of(PLAN), START, "sharp")
FREE = released(plan_of(PLAN), HELD.state, CHOSEN)


def anchor_at(on, states):
    return {"on": on, "mornings": [None] * 3, "states": states, "why": [["stop"]] * len(RESPONSES)}


def test_a_release_holds_on_the_phone_until_a_morning_says_otherwise(ask):
    bundle = bundle_of(PLAN)
    sharp, calm, freed = late_reports()[0].values[0]
    on = freed["on"]
    anchor = anchor_at(on, [wired(PLAN, HELD.state if response == "sharp" else FREE) for response in RESPONSES])
    quiet = ask(UNREPORTED, bundle=bundle, anchor=anchor, events=[sharp, calm, freed])
    assert (quiet["mode"], quiet["asks"]) == ("training", True)
    woke = builders.morning(date.fromisoformat(on), 8, seq=9)
    assert ask(UNREPORTED, bundle=bundle, anchor=anchor, events=[sharp, calm, freed, woke])["mode"] == "held"
    read = json.loads(json.dumps(freed))
    read["body"]["arms"]["right"]["covers"].append(woke["id"])
    covered = ask(UNREPORTED, bundle=bundle, anchor=anchor, events=[sharp, calm, read, woke])
    assert (covered["mode"], covered["why"]) == ("training", ["released"])


FOLLOWED = """async (load, { bundle, anchor, events, days }) => {
  const { armDays } = await load("pure/dose/today.js");
  return days.map((on) => armDays(bundle, { right: anchor }, events, on)[0]).map(({ position, why }) =>
    [[position.row, position.gapDays, position.gapRung], why]);
}"""


def test_a_release_days_after_the_anchor_frees_the_arm_on_its_own_day(ask):
    sharp, _, freed = late_reports()[0].values[0]
    anchor = anchor_at(sharp["on"], [wired(PLAN, START)] * len(RESPONSES))
    days = [date.fromordinal(FIRST.toordinal() + number).isoformat() for number in (1, 2)]
    assert days[1] == freed["on"]
    followed = ask(FOLLOWED, bundle=bundle_of(PLAN), anchor=anchor, events=[sharp, freed], days=days)
    assert followed == [[wired(PLAN, HELD.state), list(HELD.reasons)], [wired(PLAN, FREE), ["released"]]]

"""The phone's daybook against the server's, for every order of arrival."""

from itertools import combinations

import msgspec
import pytest

from tests.builders import played
from tests.events.test_daybook import FIRST, LOG, SECOND, event, morning, session
from webapp.dosing.course import NOTHING
from webapp.sync.log.facts import facts_by_arm

FACTS = """async (load, { logs }) => {
  const { factsOf } = await load("pure/dose/daybook.js");
  const plain = ([on, { warmed, isUnrated, sport, isNearSport, ...facts }]) => [on, { ...facts, is_unrated: isUnrated,
    is_near_sport: isNearSport, sport_minutes: sport?.minutes ?? null, sport_worst: sport?.isUnrated ? null : (sport?.worst ?? null),
    sport_amount: sport?.amount ?? "asked", sport_strokes: sport?.strokes ?? null }];
  return logs.map((log) => ["right", "left"].map((arm) => Object.fromEntries([...factsOf(log, arm)].map(plain))));
}"""
WARM_UP = {**session(1).body, "ways": ["before_sport"]}
RUNG_BELLS = {"what": "sport", "minutes": 5, "step": 1, "arms": {"right": {"worst": 4}, "left": {"worst": None}}}
ODD = [
    event(18, "exposure_noted", FIRST, {**RUNG_BELLS, "up": True, "amount": "fewer", "strokes": 12}),
    event(19, "exposure_noted", FIRST, {**RUNG_BELLS, "arms": {"right": {"worst": 9, "sharp": True}}}),
    event(20, "exposure_noted", SECOND, {"what": "sport", "minutes": 90}),
    event(9, "entry_corrected", SECOND, {"replaces": LOG[2].id, "body": None}, seq=20),
    event(10, "entry_corrected", SECOND, {"replaces": LOG[2].id, "body": morning(0, pain=10).body}),
    event(11, "entry_corrected", SECOND, {"replaces": LOG[0].id, "body": {"arms": 3}}),
    event(12, "entry_corrected", SECOND, {"replaces": "nothing that is there", "body": None}),
    event(13, "session_finished", FIRST, WARM_UP),
    session(14, SECOND, worst=None, arm="left"),
    session(15, FIRST, sharp=True),
    session(16, SECOND, worst=9, sets=played(0)),
    session(17, FIRST, worst=None, sets=[*played(900), {**played()[0], "movement": "constructor", "share": 799}]),
]
EVERY = [*LOG, *ODD]


def as_json(log):
    return [msgspec.to_builtins(event) for event in log]


def by_server(log):
    """Return the server's days, without those of which nothing is known."""
    days = facts_by_arm(log)
    return [
        {on.isoformat(): msgspec.to_builtins(facts) for on, facts in days.get(arm, {}).items() if facts != NOTHING}
        for arm in ("right", "left")
    ]


@pytest.mark.parametrize("order", [1, -1], ids=["as it came", "backwards"])
def test_phone_and_server_read_the_same_out_of_every_part_of_a_log(ask, order):
    logs = [list(part) for size in (1, 2, 3, len(EVERY)) for part in combinations(EVERY, size)]
    found = ask(FACTS, logs=[as_json(log)[::order] for log in logs])
    for log, days in zip(logs, found, strict=True):
        assert days == by_server(log), as_json(log)

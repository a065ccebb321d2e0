"""What the demo practice has of others: a colleague with clients of their own, and a group that joined by one link. Nobody here is real."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from desk import Desk
from life import intake_of, live, routine_of, settings_of
from people import PASSWORD, WORD_ALONG
from phone import ZONE, Phone
from story import Story

from webapp.events.kinds import LEVELS
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.practice.door import recovery_code
from webapp.records import cases, devices, groups, members, practitioners, routines
from webapp.records.database import Database, write
from webapp.sync.case import handing_over
from webapp.sync.log.local_day import local_day
from webapp.sync.phone import group_joining
from webapp.sync.phone.joining import PhoneTold
from webapp.words.group_word import WORD_MARK

if TYPE_CHECKING:
    from webapp.records.practitioners import Practitioner
    from webapp.sync.phone.joining import Joined

COLLEAGUE, COLLEAGUE_EMAIL = "Matis Korb", "matis@venn.example"
GROUP, AREA, MOST, DAYS_LEFT = "Thursday loom class", "outer_elbow", 30, 10
MORNING_HOUR, JOINING_HOUR = 7, 17
REASON = "Matis teaches the loom class from now on, so you see the same person on Thursdays and on the phone."
A_SIGN = "heart"

# For each who joined, the first name or "", what differs in the answers, and the days since: letters as in `story.LETTERS`, the last for yesterday.
JOINERS: tuple[tuple[str, dict[str, Any], str], ...] = (
    ("Amrei", {}, "ggghggghhgggthgghhgghh"),
    ("", {}, "ggggtgg.ggghgggg.gghhg"),
    ("Bendt", {"usual": 1}, "gggggggqggghggggqgggg"),
    ("", {}, "gggtggggfrggggggggggh"),
    ("Cecilie", {"usual": 3}, "gggggggggggfrggF"),
    ("", {}, "ggghgggg!"),
    ("Dorete", {}, "ggghgg........."),
    ("", {}, "ggghggggtggw"),
    ("", {"arms": ["left"]}, "gggg.gggg"),
    ("Eskil", {}, "gtgggg"),
    ("", {}, "ggg"),
    ("", {}, "gg"),
    ("Frieda", {"signs": [A_SIGN]}, "."),
    ("", {"usual": 5}, "."),
    ("", {"is_answered": False}, ""),
)
HANDED_ON = 10
"""The number of the joiner who is with the colleague by now."""
TOLD: dict[str, Any] = {
    "arms": ["right"],
    "places": ["outer_elbow"],
    "usual": 2,
    "activities": [],
    "weights_kg": [0.5, 1],
    "sport_days": 0,
    "other_care": [],
    "mass_kg": 70.0,
    "height_m": 1.72,
}
KILOS = ((0, "kg"), (0.5, "kg"), (1, "kg"))
OF_THE_COLLEAGUE = (
    Story(
        "Halvor Eng",
        "halvor-eng",
        "wrist",
        ("right",),
        {"mass_kg": 85.0, "height_m": 1.84, "sex": "male"},
        KILOS,
        2,
        "Thatcher. Ladder season begins in three weeks.",
        "ggghgggghg",
    ),
    Story(
        "Ines Tarrow",
        "ines-tarrow",
        "inner_elbow",
        ("left",),
        {"mass_kg": 60.0, "height_m": 1.65, "sex": "female"},
        KILOS,
        3,
        "Glove maker, the left hand holds the leather. Stopped for sharp pain; she is to ring me.",
        "ggggtg!",
    ),
)


def enrol_colleague(db: Database, owner: Practitioner, now: datetime) -> Practitioner:
    """Add a colleague who has set a password, with clients of their own."""
    began = now - timedelta(days=60)
    link = members.make_link(db, members.add(db, owner.practice, COLLEAGUE, COLLEAGUE_EMAIL, began), began)
    invited = members.invited_by(db, link.token, began)
    assert invited is not None
    members.set_password(db, link.token, invited, recovery_code.new_secrets(PASSWORD, recovery_code.drawn()), began)
    for story in OF_THE_COLLEAGUE:
        started = now - timedelta(days=len(story.days) + 1)
        case = cases.add(db, invited.practitioner, story.public_id, story.name, "en", intake_of(story), started)
        routines.push(db, case.id, routine_of(story), settings_of(story), WORD_ALONG, invited.practitioner, started)
        with write(db):
            device, _token = devices.join(db, case.id, "phone", started)
        live(Phone(db, case.id, device, now), story, local_day(now, ZONE), Desk(db, case.id, invited.practitioner))
    return practitioners.find(db, invited.practitioner)


def enrol_group(db: Database, owner: Practitioner, colleague: Practitioner, now: datetime) -> None:
    """Invite a group, let everybody join by its link, and hand one of them on to the colleague."""
    today = local_day(now, ZONE)
    began = now - timedelta(days=max(len(days) for _, _, days in JOINERS) + 1)
    ends_at = now + timedelta(days=DAYS_LEFT)
    chosen = groups.NewGroup(owner.id, GROUP, "en", starter(AREA), MOST, ends_at, WORD_MARK)
    group = groups.find(db, owner.id, groups.make(db, chosen, "demo", began))
    assert group is not None
    for number, (name, answers, days) in enumerate(JOINERS, start=1):
        at = _at(today - timedelta(days=len(days)), now)
        joined = group_joining.join_by_link(db, group.token, PhoneTold("phone", "", name), at, key=f"joiner {number}")
        _go_through(db, joined, answers, days, now)
        if number == HANDED_ON:
            handing_over.hand_over(db, joined.client, owner, colleague, owner, REASON, now=now)


def _at(on: date, now: datetime) -> datetime:
    return min(now, datetime.combine(on, time(JOINING_HOUR), UTC))


def _go_through(db: Database, joined: Joined, answers: dict[str, Any], days: str, now: datetime) -> None:
    """Let a joiner answer the questions and, where nothing speaks against the start, go through their days."""
    today = local_day(now, ZONE)
    phone, on = Phone(db, joined.client, joined.device, now), today - timedelta(days=len(days))
    if not answers.get("is_answered", True):
        return
    signs = {"asked_list": the_shelf().signs_mark, "reached": LEVELS[-1], "signs": answers.get("signs", [])}
    intake = TOLD | {name: value for name, value in answers.items() if name in TOLD}
    phone.send(on, [("screening_answered", MORNING_HOUR, signs), ("intake_told", MORNING_HOUR, intake)])
    with write(db):
        is_started = group_joining.start_if_clear(db, joined.client, on, _at(on, now))
    if is_started:
        body = {"mass_kg": intake["mass_kg"], "height_m": intake["height_m"], "sex": None}
        story = replace(OF_THE_COLLEAGUE[0], arms=tuple(intake["arms"]), body=body, usual=intake["usual"], days=days)
        live(phone, story, today, Desk(db, joined.client, 0), is_answered=True)

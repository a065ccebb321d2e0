"""A story of the demo as its phone sends it: the entries of each day, the oldest day first, and this morning's report."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from people import PRACTITIONER
from sessions import session_body
from story import DETAILS, LETTERS, NOT_RATED, Story

from webapp.dosing.settings import Body
from webapp.events.kinds import LEVELS
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.case import letters

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from desk import Desk
    from phone import Draft, Phone

    from webapp.dosing.dose import Dose

POUND_KG = 0.45359237
USUAL_UNSEEN = 3
"""Up to this usual pain nobody need have seen the arm."""
OUTING_MINUTES = 5
MORNING_HOUR, EVENING_HOUR, HOURS_APART = 7, 18, 5


def intake_of(story: Story) -> dict[str, Any]:
    """Return the intake of a client as the desk stores it."""
    plain = {
        "area": story.area,
        "usual": story.usual,
        "clinician_seen": story.usual > USUAL_UNSEEN,
        "start_rungs": _start_rungs(story),
        "note": story.note,
    }
    return {**plain, **story.body, "arms": list(story.arms), "weights": _weights(story)}


def settings_of(story: Story) -> dict[str, Any]:
    """Return what the core needs to know of a client, as it goes with a routine."""
    kilograms = [round(value * (POUND_KG if unit == "lb" else 1), 4) for value, unit in story.weights]
    plain = {
        "usual": story.usual,
        "start_rungs": _start_rungs(story),
        "weights_kg": kilograms,
        "weights": _weights(story),
    }
    return {**plain, **story.body, "arms": list(story.arms), "clinician_seen": story.usual > USUAL_UNSEEN}


def routine_of(story: Story) -> dict[str, Any]:
    """Return the starter routine of the story's area, with what the practitioner has changed in it."""
    routine = starter(story.area)
    return {**routine, "tuning": {**routine.get("tuning", {}), **story.tuning}}


def _start_rungs(story: Story) -> dict[str, int]:
    return dict.fromkeys(story.arms, story.start_rung) if story.start_rung else {}


def _weights(story: Story) -> list[dict[str, Any]]:
    return [{"value": value, "unit": unit} for value, unit in story.weights]


def live(phone: Phone, story: Story, today: date, desk: Desk, *, is_answered: bool = False) -> None:
    """Send the events of each day as the phone would have sent them, the oldest day first, and this morning's report.

    `is_answered` says that the phone has answered the safety questions before.
    """
    felt, version = None, 1
    for count, letter in enumerate([*story.days, None]):
        on = today - timedelta(days=len(story.days) - count)
        _release_or_archive(story, count + 1, on, desk)
        if count + 1 in story.versions:
            version = desk.push(routine_of(story), settings_of(story), story.versions[count + 1], on)
        is_new = count == 0 or count + 1 in story.versions
        drafts: list[Draft] = list(_arrival(story, version, is_answered=is_answered)) if is_new else []
        if felt is not None:
            drafts.append(("morning_reported", MORNING_HOUR, _morning(story, felt)))
        if count == 0 and story.activities:
            desk.name(tuple(story.activities), on)
        drafts += _ratings(story, count + 1)
        drafts += _beside(story, count + 1, on)
        phone.send(on, drafts)
        if story.way and count + 1 == story.way.opened:
            desk.open_way(story.way.ladder, story.way.reason, on)
        worst, over_usual = LETTERS[letter] if letter else (None, None)
        if worst is not None:
            last = {"routine": version, **DETAILS.get(letter or "", {})}
            phone.send(on, list(_sessions(story, phone.doses_on(on), worst, last)))
        felt = None if over_usual is None else story.usual + over_usual
    for days_ago, text, answered in story.letters:
        _write(phone, today - timedelta(days=days_ago), text, answered)


def _release_or_archive(story: Story, number: int, on: date, desk: Desk) -> None:
    if number in story.released:
        desk.release(on)
    if number in story.archived:
        desk.archive(story.archived[number], on)


def _write(phone: Phone, on: date, text: str, answered: str) -> None:
    """Send a letter, and let the practitioner answer on the next morning."""
    phone.send(on, [("letter_written", EVENING_HOUR, {"text": text})])
    if answered:
        seen = letters.seal(letters.thread_of(phone.db, phone.client))
        now = datetime.combine(on + timedelta(days=1), time(MORNING_HOUR), UTC)
        letters.answer(phone.db, phone.client, answered, PRACTITIONER, "", seen, now=now)


def _arrival(story: Story, version: int, *, is_answered: bool) -> Iterator[Draft]:
    """Yield what a phone sends when a routine comes; with the first one the safety questions are answered."""
    yield "routine_received", MORNING_HOUR, {"version": version, "bundle": ""}
    if version > 1 or is_answered:
        return
    body = {"asked_list": the_shelf().signs_mark, "reached": LEVELS[-1], "signs": list(story.ticked)}
    yield "screening_answered", MORNING_HOUR, body


def _beside(story: Story, number: int, on: date) -> Iterator[Draft]:
    """Yield what the client told of sport and of days away, and every other day the tick of the habit."""
    if number in story.sport:
        yield "exposure_noted", EVENING_HOUR, {"what": "sport", "name": "Climbing", "minutes": 60, "begins": "18:30"}
    if number in story.away:
        days, kind = story.away[number]
        first, last = (on - timedelta(days=back) for back in (days, 1))
        yield (
            "away_noted",
            MORNING_HOUR,
            {"first": first.isoformat(), "last": last.isoformat(), "what": kind, **_happened(story)},
        )
    if story.way and number in story.way.outings:
        arms = {arm: {"worst": story.way.outings[number]} for arm in story.arms}
        yield "exposure_noted", EVENING_HOUR, {"what": "sport", "minutes": OUTING_MINUTES, "step": 1, "arms": arms}
    if story.habit and number % 2:
        yield "habit_noted", EVENING_HOUR, {"habit": story.habit, "kept": True}


def _happened(story: Story) -> dict[str, Any]:
    return {"happened": list(story.happened)} if story.happened else {}


def _ratings(story: Story, number: int) -> list[Draft]:
    """Return the ratings of the client's own activities on a day, which is counted from 1."""
    return [
        ("activity_rated", EVENING_HOUR, {"activity": name, "rating": rated[number]})
        for name, rated in story.activities.items()
        if number in rated
    ]


def _sessions(story: Story, doses: Mapping[str, Dose], worst: int, last: Mapping[str, Any]) -> Iterator[Draft]:
    """Yield the sessions of a day, the earliest first; the last session gets the details `last`."""
    assert doses, f"{story.name}: a session on a day that asks for none"
    most = max(each.sessions for each in doses.values())
    for number in range(most):
        left = most - 1 - number
        arms = {arm: doses[arm] for arm in story.arms if arm in doses and doses[arm].sessions > left}
        details = {"routine": last["routine"]} if left else last
        body = session_body(arms, Body(**story.body), None if worst == NOT_RATED else worst, details)
        yield "session_finished", EVENING_HOUR - HOURS_APART * left, body


def _morning(story: Story, felt: int) -> dict[str, Any]:
    return {"arms": {arm: {"pain": felt, "sharp": False} for arm in story.arms}}

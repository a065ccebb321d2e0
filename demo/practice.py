"""Fills the demo practice, once, and prints what a visitor needs as one JSON object: the link's token and the sign-in.

Everything goes the way it goes in earnest: the desk's records, an invitation redeemed, and batches of events as a phone sends them.
"""

from __future__ import annotations

import json
import sys
import uuid
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from people import EMAIL, LETTERS, PASSWORD, PRACTITIONER, STORIES, TOLD, Story

from webapp.config import read_settings
from webapp.library.routine import starter
from webapp.practice.accounts import add_practitioner
from webapp.records import cases, devices, invitations, practitioners, routines
from webapp.records.database import Database, open_records, write
from webapp.records.migrations import prepare_records
from webapp.sync.take import take_batch

if TYPE_CHECKING:
    from collections.abc import Iterator

POUND_KG = 0.45359237
ZONE = "Europe/Lisbon"
MORNING_HOUR, EVENING_HOUR, SENDING_HOUR = 7, 18, 19
SESSION_SECONDS = 640
SESSION_STEPS = 24
SHARP_RATING = 8

Draft = tuple[str, int, dict[str, Any]]


def main() -> int:
    """Fill an empty database, see to an unused invitation, and print what is needed to visit."""
    path = read_settings().db
    now = datetime.now(UTC)
    prepare_records(path)
    db = open_records(path)
    try:
        known = practitioners.with_password(db, EMAIL)
        owner = known[0] if known else _fill(db, now)
        token = _fresh_link(db, owner.id, now)
    finally:
        db.conn.close()
    print(json.dumps({"token": token, "email": EMAIL, "password": PASSWORD}))
    return 0


def _fill(db: Database, now: datetime) -> practitioners.Practitioner:
    owner = add_practitioner(read_settings().db, PRACTITIONER, EMAIL, PASSWORD, now)
    for story in STORIES:
        _enrol(db, owner.id, story, now)
    return owner


def _enrol(db: Database, owner: int, story: Story, now: datetime) -> None:
    began = now - timedelta(days=len(story.days) + 1)
    case = cases.add(db, owner, story.public_id, story.name, "en", _intake(story), began)
    routines.push(db, case.id, starter(story.area), _settings(story), story.note, owner, began)
    if story.on_phone:
        with write(db):
            device, _token = devices.join(db, case.id, "phone", began)
        for on, events in _days(story, now.date()):
            _send(db, case.id, device, on, events)


def _send(db: Database, client: int, device: str, on: date, events: list[dict[str, Any]]) -> None:
    """Hand over one day's events as the endpoint does for a phone; a refusal would be a fault of this script."""
    sent_at = datetime.combine(on, time(SENDING_HOUR), UTC)
    results = take_batch(db, client, device, [json.dumps(event).encode() for event in events], sent_at)
    refused = [result for result in results if result.status != "stored"]
    assert not refused, refused


def _fresh_link(db: Database, owner: int, now: datetime) -> str:
    """A link for the client who is new; links keep no secret, so each start makes its own."""
    newcomer = next(story for story in STORIES if not story.on_phone)
    case = cases.find(db, owner, newcomer.public_id)
    assert case is not None
    return invitations.make_link(db, case.id, now).token


def _intake(story: Story) -> dict[str, Any]:
    plain = {"area": story.area, "usual": story.usual, "start_rung": None, "note": story.note}
    return {**plain, **story.body, "arms": list(story.arms), "weights": _weights(story)}


def _settings(story: Story) -> dict[str, Any]:
    kilograms = [round(value * (POUND_KG if unit == "lb" else 1), 4) for value, unit in story.weights]
    plain = {"usual": story.usual, "start_rung": None, "weights_kg": kilograms, "weights": _weights(story)}
    return {**plain, **story.body, "arms": list(story.arms)}


def _weights(story: Story) -> list[dict[str, Any]]:
    return [{"value": value, "unit": unit} for value, unit in story.weights]


def _days(story: Story, today: date) -> Iterator[tuple[date, list[dict[str, Any]]]]:
    """Each day's events as the phone would have sent them that evening, the oldest day first, and this morning's report."""
    seq, felt = 0, None
    for count, letter in enumerate([*story.days, None]):
        on = today - timedelta(days=len(story.days) - count)
        worst, next_felt = LETTERS[letter] if letter else (None, None)
        drafts: list[Draft] = [] if count else [("routine_received", MORNING_HOUR, {"version": 1, "bundle": ""})]
        if felt is not None:
            drafts.append(("morning_reported", MORNING_HOUR, _morning(story, felt)))
        if worst is not None:
            drafts.append(("session_finished", EVENING_HOUR, _session(story, worst, str(letter))))
        yield on, [_event(on, seq + place, *draft) for place, draft in enumerate(drafts, start=1)]
        seq, felt = seq + len(drafts), next_felt


def _event(on: date, seq: int, kind: str, hour: int, body: dict[str, Any]) -> dict[str, Any]:
    at = f"{on.isoformat()}T{hour:02d}:00:00.000Z"
    return {
        "id": str(uuid.uuid4()),
        "kind": kind,
        "v": 1,
        "on": on.isoformat(),
        "at": at,
        "zone": ZONE,
        "seq": seq,
        "body": body,
    }


def _morning(story: Story, felt: int) -> dict[str, Any]:
    return {"arms": {arm: {"pain": felt, "sharp": False} for arm in story.arms}}


def _session(story: Story, worst: int, letter: str) -> dict[str, Any]:
    is_sharp = letter == "!"
    done = SESSION_STEPS // 2 if is_sharp else SESSION_STEPS
    return {
        "routine": 1,
        "arms": {arm: _rating(worst, is_sharp=is_sharp and arm == story.arms[0]) for arm in story.arms},
        "asked_steps": SESSION_STEPS,
        "done_steps": done,
        "active_seconds": SESSION_SECONDS * done // SESSION_STEPS,
        "ended": "sharp" if is_sharp else "completed",
        "why": "",
        "note": "",
        "gaps": [],
        **TOLD.get(letter, {}),
    }


def _rating(worst: int, *, is_sharp: bool) -> dict[str, Any]:
    return {"worst": SHARP_RATING if is_sharp else worst, "sharp": is_sharp}


if __name__ == "__main__":
    sys.exit(main())

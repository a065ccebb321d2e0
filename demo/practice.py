"""Fills the demo practice, once, and prints a JSON object for a visitor: the link's token, the e-mail address, the password.

All data goes the usual way: clients and routines as from the desk, phones by joining, events in batches as a phone sends them.
"""

from __future__ import annotations

import json
import sys
import uuid
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from desk import Desk
from people import (
    DETAILS,
    EMAIL,
    HOURS,
    LETTERS,
    LETTERS_READ,
    PASSWORD,
    PRACTITIONER,
    STORIES,
    TELEPHONE,
    TOLD,
    WORD_ALONG,
    Story,
)
from sessions import session_body

from webapp.config import read_settings
from webapp.dosing.dose import Dose, dose
from webapp.dosing.settings import Body
from webapp.events.kinds import LEVELS
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.practice.door.accounts import add_practitioner
from webapp.records import cases, devices, invitations, practitioners, routines
from webapp.records.database import Database, open_records, write
from webapp.records.making import make_records
from webapp.sync import letters
from webapp.sync.fold import accounts_of
from webapp.sync.take import take_batch
from webapp.sync.told_intake import TOLD_LATER

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

POUND_KG = 0.45359237
ZONE = "Europe/Lisbon"
MORNING_HOUR, EVENING_HOUR, SENDING_HOUR, HOURS_APART = 7, 18, 19, 5

Draft = tuple[str, int, dict[str, Any]]


def main() -> int:
    """Fill the database if it is empty, make an unused invitation, and print what a visitor needs."""
    path = read_settings().db
    now = datetime.now(UTC)
    make_records(path)
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
    reach = practitioners.Reach(TELEPHONE, HOURS, letters_read=LETTERS_READ)
    owner = add_practitioner(read_settings().db, PRACTITIONER, EMAIL, PASSWORD, now, reach)
    for story in STORIES:
        _enrol(db, owner.id, story, now)
    _ask(db, owner.id, now)
    return owner


def _enrol(db: Database, owner: int, story: Story, now: datetime) -> None:
    began = now - timedelta(days=len(story.days) + 1)
    case = cases.add(db, owner, story.public_id, story.name, "en", _intake(story), began)
    routines.push(db, case.id, starter(story.area), _settings(story), WORD_ALONG, owner, began)
    if story.on_phone:
        with write(db):
            device, _token = devices.join(db, case.id, "phone", began)
        desk = Desk(db, case.id, owner)
        if story.habit:
            desk.choose_habit(story.habit, began.date())
        _live(_Phone(db, case.id, device), story, now.date(), desk)
        if story.course:
            desk.set_course(*story.course, now.date())


def _ask(db: Database, owner: int, now: datetime) -> None:
    """Add a client who has told the intake on the phone, and waits for the practitioner to confirm it."""
    case = cases.add(db, owner, "runa-feld", "Runa Feld", "en", TOLD_LATER, now)
    with write(db):
        device, _token = devices.join(db, case.id, "phone", now)
    phone = _Phone(db, case.id, device)
    body = {"asked_list": the_shelf().signs_mark, "reached": LEVELS[-1], "signs": []}
    phone.send(now.date(), [("screening_answered", MORNING_HOUR, body), ("intake_told", MORNING_HOUR, dict(TOLD))])


class _Phone:
    """A client's phone: sends events as the sync endpoint takes them, and counts them."""

    def __init__(self, db: Database, client: int, device: str) -> None:
        self.db, self.client, self.device, self.seq = db, client, device, 0

    def send(self, on: date, drafts: list[Draft]) -> None:
        """Send the events of one day; a refused event would be a fault of this script."""
        events = [_event(on, self.seq + index, *draft) for index, draft in enumerate(drafts, start=1)]
        self.seq += len(drafts)
        sent_at = datetime.combine(on, time(SENDING_HOUR), UTC)
        results = take_batch(
            self.db, self.client, self.device, [json.dumps(event).encode() for event in events], sent_at
        )
        refused = [result for result in results if result.status != "stored"]
        assert not refused, refused

    def doses_on(self, on: date) -> dict[str, Dose]:
        """Return the dose of a day for each arm that has sessions on that day."""
        accounts = accounts_of(self.db, self.client, on)
        doses = {arm: dose(account.plan, account.state) for arm, account in accounts.items()}
        return {arm: each for arm, each in doses.items() if each.sessions}


def _fresh_link(db: Database, owner: int, now: datetime) -> str:
    """Return a token for the link of the new client. A token is stored only as a hash, so each start makes a new one."""
    newcomer = next(story for story in STORIES if not story.on_phone)
    case = cases.find(db, owner, newcomer.public_id)
    assert case is not None
    return invitations.make_link(db, case.id, now).token


def _intake(story: Story) -> dict[str, Any]:
    plain = {"area": story.area, "usual": story.usual, "clinician_seen": False, "start_rungs": {}, "note": story.note}
    return {**plain, **story.body, "arms": list(story.arms), "weights": _weights(story)}


def _settings(story: Story) -> dict[str, Any]:
    kilograms = [round(value * (POUND_KG if unit == "lb" else 1), 4) for value, unit in story.weights]
    plain = {"usual": story.usual, "start_rungs": {}, "weights_kg": kilograms, "weights": _weights(story)}
    return {**plain, **story.body, "arms": list(story.arms)}


def _weights(story: Story) -> list[dict[str, Any]]:
    return [{"value": value, "unit": unit} for value, unit in story.weights]


def _live(phone: _Phone, story: Story, today: date, desk: Desk) -> None:
    """Send the events of each day as the phone would have sent them, the oldest day first, and this morning's report."""
    felt, version = None, 1
    for count, letter in enumerate([*story.days, None]):
        on = today - timedelta(days=len(story.days) - count)
        if count + 1 in story.released:
            desk.release(on)
        if count + 1 in story.versions:
            version = desk.push(story.area, _settings(story), story.versions[count + 1], on)
        is_new = count == 0 or count + 1 in story.versions
        drafts: list[Draft] = list(_arrival(story, version)) if is_new else []
        if felt is not None:
            drafts.append(("morning_reported", MORNING_HOUR, _morning(story, felt)))
        if count == 0 and story.activities:
            desk.name(tuple(story.activities), on)
        drafts += _ratings(story, count + 1)
        drafts += _beside(story, count + 1, on)
        phone.send(on, drafts)
        worst, over_usual = LETTERS[letter] if letter else (None, None)
        if worst is not None:
            last = {"routine": version, **DETAILS.get(letter or "", {})}
            phone.send(on, list(_sessions(story, phone.doses_on(on), worst, last)))
        felt = None if over_usual is None else story.usual + over_usual
    for days_ago, text, answered in story.letters:
        _write(phone, today - timedelta(days=days_ago), text, answered)


def _write(phone: _Phone, on: date, text: str, answered: str) -> None:
    """Send a letter, and let the practitioner answer on the next morning."""
    phone.send(on, [("letter_written", EVENING_HOUR, {"text": text})])
    if answered:
        seen = letters.seal(letters.thread_of(phone.db, phone.client))
        now = datetime.combine(on + timedelta(days=1), time(MORNING_HOUR), UTC)
        letters.answer(phone.db, phone.client, answered, PRACTITIONER, "", seen, now=now)


def _arrival(story: Story, version: int) -> Iterator[Draft]:
    """Yield what a phone sends when a routine comes; with the first one the safety questions are answered."""
    yield "routine_received", MORNING_HOUR, {"version": version, "bundle": ""}
    if version > 1:
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
        yield "away_noted", MORNING_HOUR, {"first": first.isoformat(), "last": last.isoformat(), "what": kind}
    if story.habit and number % 2:
        yield "habit_noted", EVENING_HOUR, {"habit": story.habit, "kept": True}


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
        body = session_body(arms, Body(**story.body), worst, details)
        yield "session_finished", EVENING_HOUR - HOURS_APART * left, body


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


if __name__ == "__main__":
    sys.exit(main())

"""Fills the demo practice, once, and prints a JSON object for a visitor: the link's token, the e-mail addresses, the password.

All data goes the usual way: clients and routines as from the desk, phones by joining, events in batches as a phone sends them.

    python practice.py                            the stories end now
    python practice.py 2026-03-09T01:30:00+00:00  the stories end at this instant
"""

from __future__ import annotations

import json
import sys
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from archive import ARCHIVED
from desk import Desk
from life import intake_of, live, routine_of, settings_of
from on_paper import enrol_on_paper
from own_movement import push_own
from people import EMAIL, HOURS, LETTERS_READ, PASSWORD, PRACTITIONER, STORIES, TELEPHONE, TOLD, WORD_ALONG
from phone import ZONE, Phone
from standstills import STANDING_STILL
from together import COLLEAGUE_EMAIL, enrol_colleague, enrol_group
from troubles import IN_TROUBLE
from ways_back import ON_A_WAY_BACK

from webapp.config import program_hash, read_settings
from webapp.events.kinds import LEVELS
from webapp.library.shelf import the_shelf
from webapp.practice.caseload.lines import caseload_of
from webapp.practice.door.accounts import add_practitioner
from webapp.records import cases, devices, invitations, practitioners, routines, seen
from webapp.records.database import Database, open_records, write
from webapp.records.derived import drop_unless_made_by
from webapp.records.making import make_records
from webapp.sync.case.told_intake import TOLD_LATER
from webapp.sync.log.local_day import local_day

if TYPE_CHECKING:
    from story import Story

MORNING_HOUR = 7
EVERYBODY: tuple[Story, ...] = (*STORIES, *IN_TROUBLE, *STANDING_STILL, *ARCHIVED, *ON_A_WAY_BACK)
NEWEST_NOTE = "Your routine stays as it is. Send me your mornings as before."


def main() -> int:
    """Fill the database if it is empty, make an unused invitation, and print what a visitor needs."""
    path = read_settings().db
    now = datetime.fromisoformat(sys.argv[1]) if len(sys.argv) > 1 else datetime.now(UTC)
    make_records(path)
    db = open_records(path)
    # Whoever stops the filling half way starts with --fresh, so nothing waits for the disk.
    db.execute("PRAGMA synchronous = OFF")
    try:
        # Otherwise the server would drop the caseload's rows at its start, and the first look would compute them.
        drop_unless_made_by(db, program_hash())
        known = practitioners.with_password(db, EMAIL)
        owner = known[0] if known else _fill(db, now)
        token = _fresh_link(db, owner.id, now)
    finally:
        db.conn.close()
    print(json.dumps({"token": token, "email": EMAIL, "password": PASSWORD, "colleague": COLLEAGUE_EMAIL}))
    return 0


def _fill(db: Database, now: datetime) -> practitioners.Practitioner:
    reach = practitioners.Reach(TELEPHONE, HOURS, letters_read=LETTERS_READ)
    owner = add_practitioner(read_settings().db, PRACTITIONER, EMAIL, PASSWORD, now, reach)
    for story in EVERYBODY:
        _enrol(db, owner.id, story, now)
    _ask(db, owner.id, now)
    enrol_on_paper(db, owner.id, now)
    enrol_group(db, owner, enrol_colleague(db, owner, now), now)
    push_own(db, owner, now)
    _mark_seen(db, owner.id, now)
    return owner


def _enrol(db: Database, owner: int, story: Story, now: datetime) -> None:
    began, today = now - timedelta(days=len(story.days) + 1), local_day(now, ZONE)
    case = cases.add(db, owner, story.public_id, story.name, "en", intake_of(story), began)
    routines.push(db, case.id, routine_of(story), settings_of(story), WORD_ALONG, owner, began)
    if story.on_phone:
        with write(db):
            device, _token = devices.join(db, case.id, "phone", began)
        desk = Desk(db, case.id, owner)
        if story.habit:
            desk.choose_habit(story.habit, began.date())
        live(Phone(db, case.id, device, now), story, today, desk)
        if story.course:
            desk.set_course(*story.course, today)
        if story.unreceived:
            pushed_at = now - timedelta(days=story.unreceived)
            routines.push(db, case.id, routine_of(story), settings_of(story), NEWEST_NOTE, owner, pushed_at)


def _ask(db: Database, owner: int, now: datetime) -> None:
    """Add a client who has told the intake on the phone, and waits for the practitioner to confirm it."""
    case = cases.add(db, owner, "runa-feld", "Runa Feld", "en", TOLD_LATER, now)
    with write(db):
        device, _token = devices.join(db, case.id, "phone", now)
    phone = Phone(db, case.id, device, now)
    body = {"asked_list": the_shelf().signs_mark, "reached": LEVELS[-1], "signs": []}
    phone.send(
        local_day(now, ZONE), [("screening_answered", MORNING_HOUR, body), ("intake_told", MORNING_HOUR, dict(TOLD))]
    )


def _mark_seen(db: Database, owner: int, now: datetime) -> None:
    """Mark as seen whom the practitioner has marked, with the causes that are there today."""
    marked = {story.public_id: story.seen for story in EVERYBODY if story.seen}
    for line in caseload_of(db, owner, now).lines:
        if line.case.public_id in marked:
            days, note = marked[line.case.public_id]
            causes, until = tuple(cause.stamp for cause in line.causes), str(line.today + timedelta(days=days))
            seen.mark(db, line.case.id, seen.Seen(until, note, causes, PRACTITIONER), now)


def _fresh_link(db: Database, owner: int, now: datetime) -> str:
    """Return a token for the link of the new client. A token is stored only as a hash, so each start makes a new one."""
    newcomer = next(story for story in EVERYBODY if not story.on_phone)
    case = cases.find(db, owner, newcomer.public_id)
    assert case is not None
    return invitations.make_link(db, case.id, now).token


if __name__ == "__main__":
    sys.exit(main())

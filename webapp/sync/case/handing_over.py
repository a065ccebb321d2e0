"""Handing a client over to a colleague: the client moves, and reads in a letter who is with them from then on."""

from datetime import datetime

from webapp.records import cases, hand_overs, practitioners
from webapp.records.database import Database, write
from webapp.records.practitioners import Practitioner
from webapp.sync.log import practice_events
from webapp.sync.log.local_day import local_day, zone_of
from webapp.words.catalogue import mark, words_for

LETTER = mark(
    "From today %(name)s is with you instead of %(before)s, and reads your answers. This page says how to reach them. %(reason)s"
)
LONGEST_REASON = 280


class NotHandedOverError(Exception):
    """Nothing was moved: the client is with somebody else by now, or the colleague cannot take them."""


def hand_over(
    db: Database, client: int, before: Practitioner, to: Practitioner, by: Practitioner, reason: str, *, now: datetime
) -> None:
    """Hand a client over; every phone of the client gets the letter, and the new name, in its next sync.

    Args:
        db: The records.
        client: The client's key.
        before: The practitioner who has the client.
        to: The colleague who is to have the client.
        by: Who hands over: the practitioner, or an owner of the practice.
        reason: Why, at most 280 characters; the client reads it.
        now: The instant of the call, in UTC.

    Raises:
        NotHandedOverError: Nothing was moved and nothing was written.
    """
    with write(db):
        if not hand_overs.hand_over(db, client, before.id, to.id, by.id, reason, now):
            raise NotHandedOverError
        words = words_for(cases.locale_of(db, client))
        text = words.say(LETTER, name=to.name, before=before.name, reason=reason)
        body = {"text": text, "by": by.name}
        practice_events.put(db, client, "letter_answered", local_day(now, zone_of(db, client)), body, now)


def colleagues_to_take(db: Database, practice: int, client_of: int) -> list[Practitioner]:
    """List who could take a client of a practitioner: everybody else who works in the practice and has a password."""
    return [each for each in practitioners.at_work(db, practice) if each.id != client_of]

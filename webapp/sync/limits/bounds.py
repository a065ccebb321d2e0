"""Limits on the amount that one phone may send in a day: enough for a real backlog, but not for a phone in an endless loop.

A day is the server's day, in UTC. Events that are refused stay on the phone.
"""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from webapp.records import amounts, events
from webapp.records.amounts import Amount
from webapp.records.database import Database, instant
from webapp.records.events import NewEvent, RefusedEvent

# A year with two sessions a day, sent at once, is about 8,000 events of about 700 bytes (our own estimate). Ten thousand
# events and 20 MB are our own choice above that.
MOST_TAKEN_A_DAY = Amount(10_000, 20_000_000)
MOST_REFUSED_A_DAY = Amount(500, 1_000_000)
MOST_REFUSED = Amount(2_000, 4_000_000)
EVER = ""


class TooMuchError(Exception):
    """A phone has sent more valid events today than the limit; nothing of the batch was stored.

    Attributes:
        wait: The time until the next day begins.
    """

    def __init__(self, wait: timedelta) -> None:
        super().__init__()
        self.wait = wait


def check_room(db: Database, device: str, fresh: Sequence[NewEvent], now: datetime) -> None:
    """Check, inside a write, that the new events of a batch stay under the phone's limit for today.

    Raises:
        TooMuchError: They exceed the limit.
    """
    midnight = _midnight(now)
    sent = Amount(len(fresh), sum(len(event.raw.encode()) for event in fresh))
    if fresh and not _fits(amounts.taken_since(db, device, instant(midnight)), sent, MOST_TAKEN_A_DAY):
        raise TooMuchError(midnight + timedelta(days=1) - now)


def with_room(
    db: Database, client: int, device: str, refused: Sequence[RefusedEvent], now: datetime
) -> list[RefusedEvent]:
    """Return, inside a write, the refused events that fit the limit; an event that is stored already costs nothing."""
    if not refused:
        return []
    midnight = instant(_midnight(now))
    today, ever = amounts.set_aside_since(db, device, midnight), amounts.set_aside_since(db, device, EVER)
    kept, held = [], events.set_aside_among(db, client, refused)
    for event in refused:
        size = Amount(1, len(event.id.encode()) + len(event.raw.encode()))
        is_held = (event.id, event.hash) in held
        if is_held or (_fits(today, size, MOST_REFUSED_A_DAY) and _fits(ever, size, MOST_REFUSED)):
            kept.append(event)
            if not is_held:
                held.add((event.id, event.hash))
                today, ever = _sum(today, size), _sum(ever, size)
    return kept


def _midnight(now: datetime) -> datetime:
    return datetime.combine(now.date(), time(), now.tzinfo)


def _sum(amount: Amount, other: Amount) -> Amount:
    return Amount(amount.entries + other.entries, amount.size + other.size)


def _fits(there: Amount, more: Amount, most: Amount) -> bool:
    whole = _sum(there, more)
    return whole.entries <= most.entries and whole.size <= most.size

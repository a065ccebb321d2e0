"""How much one phone may send: enough for an honest backlog, and an end for a phone that runs in circles.

A day here is the server's own, in UTC. What a phone sent stays on it, whatever is refused.
"""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from webapp.records import events
from webapp.records.database import Database, instant
from webapp.records.events import Amount, NewEvent, RefusedEvent

# A year of two sessions a day, sent again in one go, is some 8,000 entries of some 700 bytes (own estimate); ten
# thousand and 20 MB are the own choice above that.
MOST_TAKEN_A_DAY = Amount(10_000, 20_000_000)
MOST_REFUSED_A_DAY = Amount(500, 1_000_000)
MOST_REFUSED = Amount(2_000, 4_000_000)
EVER = ""


class TooMuchError(Exception):
    """A phone has sent more good entries today than is taken from one; nothing of the batch was stored.

    Attributes:
        wait: Until the next day begins.
    """

    def __init__(self, wait: timedelta) -> None:
        super().__init__()
        self.wait = wait


def check_room(db: Database, device: str, fresh: Sequence[NewEvent], now: datetime) -> None:
    """See that what is new in a batch has room in the phone's day, inside a write.

    Raises:
        TooMuchError: It has none.
    """
    midnight = _midnight(now)
    sent = Amount(len(fresh), sum(len(one.raw.encode()) for one in fresh))
    if fresh and not _fits(events.taken_since(db, device, instant(midnight)), sent, MOST_TAKEN_A_DAY):
        raise TooMuchError(midnight + timedelta(days=1) - now)


def with_room(
    db: Database, client: int, device: str, refused: Sequence[RefusedEvent], now: datetime
) -> list[RefusedEvent]:
    """Return those refused entries that there is room to keep, inside a write; a copy of one that is kept needs none."""
    if not refused:
        return []
    midnight = instant(_midnight(now))
    today, ever = events.set_aside_since(db, device, midnight), events.set_aside_since(db, device, EVER)
    kept, held = [], events.set_aside_among(db, client, refused)
    for one in refused:
        size = Amount(1, len(one.id.encode()) + len(one.raw.encode()))
        is_held = (one.id, one.hash) in held
        if is_held or (_fits(today, size, MOST_REFUSED_A_DAY) and _fits(ever, size, MOST_REFUSED)):
            kept.append(one)
            if not is_held:
                held.add((one.id, one.hash))
                today, ever = _sum(today, size), _sum(ever, size)
    return kept


def _midnight(now: datetime) -> datetime:
    return datetime.combine(now.date(), time(), now.tzinfo)


def _sum(one: Amount, other: Amount) -> Amount:
    return Amount(one.entries + other.entries, one.size + other.size)


def _fits(there: Amount, more: Amount, most: Amount) -> bool:
    whole = _sum(there, more)
    return whole.entries <= most.entries and whole.size <= most.size

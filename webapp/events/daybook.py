"""What a log adds up to, arm by arm and day by day, whatever the order of arrival.

A phone's clock is never trusted for order: where two reports of one day differ, the worse one
counts, and a correction names the entry that it replaces.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from webapp.events.codec import check_body
from webapp.events.kinds import Event, EventError


class Known(NamedTuple):
    """What the log says of one arm on one day.

    Attributes:
        sessions: Sessions in which the arm did at least one rep.
        shares: For each movement that was asked, the share done of the day's work in it, per mille, sorted by name.
        during: Worst discomfort in any session, or None.
        is_unrated: Whether a session with at least one rep has no rating.
        morning: Pain on that day's own morning, or None.
        sharp: Sharp pain or a warning sign, in a session or otherwise, on that day.
        sharp_morning: Sharp pain told of on that day's morning, which speaks of the day before.
    """

    sessions: int = 0
    shares: tuple[tuple[str, int], ...] = ()
    during: int | None = None
    is_unrated: bool = False
    morning: int | None = None
    sharp: bool = False
    sharp_morning: bool = False


Daybook = dict[str, dict[date, Known]]


def standing(events: Iterable[Event]) -> list[Event]:
    """Give the entries that count: each once, corrections applied, sorted by id.

    A correction names the original entry. Of several to one entry, the one with the greatest
    counter of its device counts, then the greatest id; one whose new body does not fit the
    entry's kind is left out.
    """
    by_id = {event.id: event for event in events}
    fixes: dict[str, Event] = {}
    for event in sorted(by_id.values(), key=lambda event: (event.seq, event.id)):
        target = by_id.get(event.body.get("replaces", "")) if event.kind == "entry_corrected" else None
        if target and _fits(target.kind, event.body.get("body")):
            fixes[target.id] = event
    kept = (_corrected(event, fixes) for event in by_id.values() if event.kind != "entry_corrected")
    return sorted((event for event in kept if event), key=lambda event: event.id)


def _fits(kind: str, body: dict[str, Any] | None) -> bool:
    try:
        if body is not None:
            check_body(kind, body)
    except EventError:
        return False
    return kind != "entry_corrected"


def _corrected(event: Event, fixes: Mapping[str, Event]) -> Event | None:
    if event.id not in fixes:
        return event
    body = fixes[event.id].body.get("body")
    return None if body is None else replace(event, body=body)


def _worse(one: int | None, other: int | None) -> int | None:
    if one is None or other is None:
        return other if one is None else one
    return max(one, other)


def _with_session(known: Known, told: Mapping[str, Any]) -> Known:
    shares, has_reps = dict(known.shares), False
    for entry in told["sets"]:
        movement, has_done = entry["movement"], entry["reps"] > 0
        shares[movement] = shares.get(movement, 0) + (entry["share"] if has_done else 0)
        has_reps = has_reps or has_done
    worst = told.get("worst")
    return known._replace(
        sessions=known.sessions + has_reps,
        shares=tuple(sorted(shares.items())),
        during=_worse(known.during, worst),
        is_unrated=known.is_unrated or (has_reps and worst is None),
        sharp=known.sharp or bool(told.get("sharp", False)),
    )


def _with_morning(known: Known, told: Mapping[str, Any]) -> Known:
    sharp = known.sharp_morning or bool(told.get("sharp", False))
    return known._replace(morning=_worse(known.morning, told.get("pain")), sharp_morning=sharp)


def _told(event: Event) -> Iterator[tuple[str, Mapping[str, Any]]]:
    if event.kind == "warning_raised":
        # A sign that holds nothing is for the practitioner to read.
        for arm in event.body["arms"] if event.body.get("holds", True) else ():
            yield arm, {}
    elif event.kind in ("session_finished", "morning_reported"):
        yield from event.body["arms"].items()


def _with(known: Known, kind: str, told: Mapping[str, Any]) -> Known:
    if kind == "session_finished":
        return _with_session(known, told)
    return _with_morning(known, told) if kind == "morning_reported" else known._replace(sharp=True)


def entries(events: Iterable[Event]) -> Iterator[tuple[Event, str, Known]]:
    """Give what each entry that counts says by itself: the entry, the arm, what it tells of the entry's day."""
    for event in standing(events):
        for arm, told in _told(event):
            yield event, arm, _with(Known(), event.kind, told)


def daybook(events: Iterable[Event]) -> Daybook:
    """Add up a log: for each arm, what is known of each day; any order, any repetition."""
    book: Daybook = defaultdict(dict)
    for event in standing(events):
        for arm, told in _told(event):
            book[arm][event.on] = _with(book[arm].get(event.on, Known()), event.kind, told)
    return dict(book)

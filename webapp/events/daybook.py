"""What a log adds up to, by arm and day. The order of arrival does not matter.

A phone's clock is never trusted for order. Where two reports of one day differ, the worse
report counts. A correction names the entry that it replaces.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from webapp.events.codec import check_body
from webapp.events.kinds import AMOUNTS, ASKED, FEWER, MORE, Event, EventError


class Sport(NamedTuple):
    """Sport on the way back on one day: minutes, worst discomfort or None, whether a rating is missing, whether it was a step up.

    `amount` is of `kinds.AMOUNTS`, `strokes` are those that were counted, or None.
    """

    minutes: int = 0
    worst: int | None = None
    is_unrated: bool = False
    has_stepped_up: bool = False
    amount: str = FEWER
    strokes: int | None = None


class Known(NamedTuple):
    """What the log says of one arm on one day.

    Attributes:
        sessions: Sessions in which the arm did at least one rep.
        shares: For each asked movement, how much of its work of the day was done, per mille; sorted by name.
        during: Worst discomfort in any session, or None.
        is_unrated: Whether a session with at least one rep has no rating.
        morning: Pain on that day's own morning, or None.
        sharp: Sharp pain or a warning sign, in a session or otherwise, on that day.
        sharp_morning: Sharp pain in that day's morning report, which is about the day before.
        sport: What sport on the way back says, or None without any.
    """

    sessions: int = 0
    shares: tuple[tuple[str, int], ...] = ()
    during: int | None = None
    is_unrated: bool = False
    morning: int | None = None
    sharp: bool = False
    sharp_morning: bool = False
    sport: Sport | None = None


Daybook = dict[str, dict[date, Known]]


def corrected_entries(events: Iterable[Event]) -> list[Event]:
    """Return the entries of a log with corrections applied: each entry once, sorted by id.

    A correction names the original entry. Where an entry has several corrections, the correction
    with the highest device counter counts, and among equal counters the one with the highest id.
    A correction whose new body does not fit the entry's kind is ignored.
    """
    by_id = {event.id: event for event in events}
    fixes: dict[str, Event] = {}
    corrections = (event for event in by_id.values() if event.kind == "entry_corrected")
    for event in sorted(corrections, key=lambda event: (event.seq, event.id)):
        target = by_id.get(event.body.get("replaces", ""))
        if target and fits(target.kind, event.body.get("body")):
            fixes[target.id] = event
    kept = (_corrected(event, fixes) for event in by_id.values() if event.kind != "entry_corrected")
    return sorted((event for event in kept if event), key=lambda event: event.id)


def said_before(events: Iterable[Event]) -> Iterator[Event]:
    """Yield each corrected entry with each body that it ever had, the last one included; a body may come several times."""
    by_id = {event.id: event for event in events}
    for fix in (event for event in by_id.values() if event.kind == "entry_corrected"):
        target, body = by_id.get(fix.body.get("replaces", "")), fix.body.get("body")
        if target and fits(target.kind, body):
            yield target
            if body is not None:
                yield replace(target, body=body)


def fits(kind: str, body: dict[str, Any] | None) -> bool:
    """Say whether a correction may put this body in the place of an entry's; None withdraws the entry."""
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


def _worse(first: int | None, second: int | None) -> int | None:
    if first is None or second is None:
        return second if first is None else first
    return max(first, second)


def _with_session(known: Known, report: Mapping[str, Any]) -> Known:
    shares, has_reps = dict(known.shares), False
    for entry in report["sets"]:
        movement, has_done = entry["movement"], entry["reps"] > 0
        shares[movement] = shares.get(movement, 0) + (entry["share"] if has_done else 0)
        has_reps = has_reps or has_done
    worst = report.get("worst")
    return known._replace(
        sessions=known.sessions + has_reps,
        shares=tuple(sorted(shares.items())),
        during=_worse(known.during, worst),
        is_unrated=known.is_unrated or (has_reps and worst is None),
        sharp=known.sharp or bool(report.get("sharp", False)),
    )


def _with_morning(known: Known, report: Mapping[str, Any]) -> Known:
    sharp = known.sharp_morning or bool(report.get("sharp", False))
    return known._replace(morning=_worse(known.morning, report.get("pain")), sharp_morning=sharp)


def _with_sport(known: Known, report: Mapping[str, Any], body: Mapping[str, Any]) -> Known:
    before, worst = known.sport or Sport(), report.get("worst")
    amount = max(before.amount, body.get("amount", ASKED), key=AMOUNTS.index)
    strokes = body.get("strokes")
    sport = Sport(
        before.minutes + (body.get("minutes") or 0),
        _worse(before.worst, worst),
        before.is_unrated or worst is None,
        before.has_stepped_up or body.get("up", False) or amount == MORE,
        amount,
        before.strokes if strokes is None else (before.strokes or 0) + strokes,
    )
    sharp = known.sharp or bool(report.get("sharp", False))
    return known._replace(during=_worse(known.during, worst), sharp=sharp, sport=sport)


def _reports(event: Event) -> Iterator[tuple[str, Mapping[str, Any]]]:
    if event.kind == "warning_raised":
        # A sign with `holds: false` stops no arm; only the practitioner reads it.
        for arm in event.body["arms"] if event.body.get("holds", True) else ():
            yield arm, {}
    elif event.kind in ("session_finished", "morning_reported") or is_sport_on_the_way(event):
        yield from event.body["arms"].items()


def is_sport_on_the_way(event: Event) -> bool:
    """Say whether an entry is about sport on the way back; one that names no arm says nothing of any."""
    return event.kind == "exposure_noted" and event.body["what"] == "sport" and "step" in event.body


def _with(known: Known, event: Event, report: Mapping[str, Any]) -> Known:
    if event.kind == "session_finished":
        return _with_session(known, report)
    if event.kind == "exposure_noted":
        return _with_sport(known, report, event.body)
    return _with_morning(known, report) if event.kind == "morning_reported" else known._replace(sharp=True)


def entries(events: Iterable[Event]) -> Iterator[tuple[Event, str, Known]]:
    """Yield (entry, arm, what this entry alone says of the arm's day) for each entry after corrections."""
    for event in corrected_entries(events):
        for arm, report in _reports(event):
            yield event, arm, _with(Known(), event, report)


def daybook(events: Iterable[Event]) -> Daybook:
    """Return what a log says of each arm and day; order and repetition of the events do not matter."""
    book: Daybook = defaultdict(dict)
    for event in corrected_entries(events):
        for arm, report in _reports(event):
            book[arm][event.on] = _with(book[arm].get(event.on, Known()), event, report)
    return dict(book)

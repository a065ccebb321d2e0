"""Turns what the log says about each day into the facts by which the dosing core closes a day.

A morning report is about the day before it, so a day's facts contain the report of the next morning.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from webapp.dosing.course import DayFacts, is_sharp
from webapp.dosing.responses import done_of
from webapp.dosing.returning.go import APART_DAYS
from webapp.events.daybook import Known, daybook, entries, fits, said_before
from webapp.events.kinds import Event

ONE_DAY = timedelta(days=1)
CLOCKS_APART, LONGEST_DAY = timedelta(hours=-1), timedelta(hours=36)
"""A correction of an entry's own day is made at most so long before it (by a second phone whose clock is behind) and after it (a day
that is flown through westwards). Own choice."""
KINDS_OF_STOPS = ("session_finished", "morning_reported", "warning_raised", "exposure_noted")


def facts_of(days: Mapping[date, Known]) -> dict[date, DayFacts]:
    """Return the facts of each day about which anything is known."""
    near = _near_sport(days)
    wanted = set(days) | {on - ONE_DAY for on in days} | near
    return {
        on: _facts(days.get(on, Known()), days.get(on + ONE_DAY, Known()), is_near_sport=on in near) for on in wanted
    }


def _near_sport(days: Mapping[date, Known]) -> set[date]:
    """Return the days with sport on the way back, and after a step up those up to 72 hours later: no other lever goes up on them."""
    reach = {on: APART_DAYS if known.sport.has_stepped_up else 1 for on, known in days.items() if known.sport}
    return {on + number * ONE_DAY for on, length in reach.items() for number in range(length)}


def _facts(known: Known, after: Known, *, is_near_sport: bool = False) -> DayFacts:
    sharp, sport = known.sharp or after.sharp_morning, known.sport
    worst = None if sport is None or sport.is_unrated else sport.worst
    done = done_of(known.sessions, known.shares)
    facts = DayFacts(
        known.sessions, done, known.during, known.is_unrated, after.morning, sharp, is_near_sport=is_near_sport
    )
    if sport is None:
        return facts
    return replace(
        facts, sport_minutes=sport.minutes, sport_worst=worst, sport_amount=sport.amount, sport_strokes=sport.strokes
    )


def facts_by_arm(events: Iterable[Event]) -> dict[str, dict[date, DayFacts]]:
    """Return the facts of each arm by day, from the events of a whole log in any order, with or without repetitions."""
    return {arm: facts_of(days) for arm, days in daybook(events).items()}


def sharp_entries(events: Iterable[Event]) -> dict[str, dict[str, date]]:
    """Return, arm by arm, every entry that alone makes a day sharp: the entry's id and the day it is about."""
    found: dict[str, dict[str, date]] = {}
    for event, arm, known in entries(events):
        if is_sharp(_facts(known, known)):
            spoken_of = event.on - ONE_DAY if event.kind == "morning_reported" else event.on
            found.setdefault(arm, {})[event.id] = spoken_of
    return found


def without_lowered_stops(events: Iterable[Event]) -> list[Event]:
    """Leave out each correction that would take a stop away from an arm later than on the day on which it was said.

    Only a release ends a hold. On its own day an entry may be corrected or withdrawn, as after "I pressed by mistake". The order of the
    events does not matter.
    """
    log = list(events)
    by_id = {event.id: event for event in log if event.kind != "entry_corrected"}
    stops: dict[str, dict[str, Event]] = {}
    refused = set()
    fixes = {event.id: event for event in log if event.kind == "entry_corrected"}
    for fix in sorted(fixes.values(), key=lambda each: (each.seq, each.id)):
        entry = by_id.get(fix.body.get("replaces", ""))
        if entry is None or entry.kind not in KINDS_OF_STOPS or not fits(entry.kind, fix.body.get("body")):
            continue
        before = stops.setdefault(entry.id, dict.fromkeys(sharp_entries([entry]), entry))
        after = sharp_entries([entry, fix])
        taken = [said for arm, said in before.items() if arm not in after]
        if all(_is_of_its_day(fix, entry) and _is_of_its_day(fix, said) for said in taken):
            stops[entry.id] = {arm: before.get(arm, fix) for arm in after}
        else:
            refused.add(fix.id)
    return [event for event in log if event.id not in refused]


def _is_of_its_day(fix: Event, said: Event) -> bool:
    """Say whether a correction was made on the day of an entry, by the day that it names and by its instant.

    A clock may have been set back meanwhile, or another phone's clock may be wrong, so the day that it names is not enough.
    """
    passed = datetime.fromisoformat(fix.at) - datetime.fromisoformat(said.at)
    return fix.on == said.on and CLOCKS_APART <= passed <= LONGEST_DAY


def stops_corrected(events: Sequence[Event]) -> list[tuple[Event, str]]:
    """List (entry as it was, arm) for each entry that alone made a day sharp until it was corrected; the latest day first."""
    still = sharp_entries(events)
    before = ((entry, arm) for entry in said_before(events) for arm in sharp_entries([entry]))
    found = {(entry.id, arm): entry for entry, arm in before if entry.id not in still.get(arm, {})}
    return sorted(((entry, arm) for (_, arm), entry in found.items()), key=lambda each: each[0].on, reverse=True)

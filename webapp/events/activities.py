"""The client's own activities: up to three, named by the client, and how well each can be done, 0 (not at all) to 10 (as before).

The method is that of the patient-specific functional scale (Stratford, Gill, Westaway and Binkley, Physiotherapy Canada 47, 1995,
258-263; the reference is from memory). An activity is known by its words. It changes no dose.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.events import values
from webapp.events.kinds import Event

NAMED, RATED, TOLD = "activities_named", "activity_rated", "intake_told"
MOST_NAMED = 3
NAME_LENGTH = 80
_HIGHEST = 10


def _named(body: dict[str, Any]) -> None:
    for activity in values.list_of(body.get("activities"), "body.activities", MOST_NAMED):
        values.text(activity, "body.activities", NAME_LENGTH)


def _rated(body: dict[str, Any]) -> None:
    values.text(body.get("activity"), "body.activity", NAME_LENGTH)
    values.whole(body.get("rating"), "body.rating", 0, _HIGHEST)


CHECKS = {NAMED: _named, RATED: _rated}
"""By kind, what raises an EventError for a fault."""


@dataclass(frozen=True)
class Rating:
    """How well an activity could be done on a day, 0 to 10."""

    on: date
    activity: str
    rating: int


def named_in(entries: Iterable[Event]) -> tuple[str, ...]:
    """Return the activities in force: those that the practice named last, else those of the client's own intake."""
    known = sorted(entries, key=lambda event: (event.on, event.at, event.id))
    lists = [event.body["activities"] for event in known if event.kind == NAMED]
    return tuple(lists[-1]) if lists else tuple(rating.activity for rating in _of_last_intake(known))


def ratings_in(entries: Iterable[Event]) -> list[Rating]:
    """Return every rating of a log, the oldest first; the intake's own ratings are the first of their activities."""
    known = sorted(entries, key=lambda event: (event.on, event.at, event.id))
    own = [Rating(event.on, event.body["activity"], event.body["rating"]) for event in known if event.kind == RATED]
    return sorted([*_of_last_intake(known), *own], key=lambda rating: rating.on)


def _of_last_intake(known: Iterable[Event]) -> list[Rating]:
    intakes = [event for event in known if event.kind == TOLD and isinstance(event.body.get("activities"), list)]
    return [
        Rating(event.on, entry["name"], entry["rating"])
        for event in intakes[-1:]
        for entry in event.body["activities"]
        if isinstance(entry, dict) and isinstance(entry.get("name"), str) and isinstance(entry.get("rating"), int)
    ]

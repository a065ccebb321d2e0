"""What a log says of each session: how it ended, how it felt, how it was done, what was eased in it.

A phone puts a session on record once, when it is over, or when one that was left is answered for; so the log holds ends
and no beginnings. May know kinds of events; nothing of doses, routines or words.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.events.daybook import standing
from webapp.events.kinds import ARMS, Event


@dataclass(frozen=True)
class Easing:
    """What was eased, from which movement on, and how often."""

    what: str
    movement: str
    times: int


@dataclass(frozen=True)
class Session:
    """One session, as it counts now.

    Attributes:
        id: Of its entry.
        on: Its day.
        routine: The version that it followed.
        worst: For each arm that worked, its worst discomfort, 0-10, or None where no number was given.
        sharp: The arms in which there was sharp pain.
        ended: One of `kinds.ENDINGS`.
        why: The reason given for stopping, one of `kinds.WHYS`.
        asked_steps, done_steps: Working steps.
        note: The client's one line, or nothing.
        ways: How it was done, of `kinds.WAYS`.
        eased: In the order in which each was first eased.
        gaps: How often it was interrupted.
        away_seconds: How long all interruptions took.
        sharp_told: The answers after a stop for sharp pain (where, like, sign), or None.
    """

    id: str
    on: date
    routine: int
    worst: Mapping[str, int | None]
    sharp: tuple[str, ...]
    ended: str
    why: str
    asked_steps: int
    done_steps: int
    note: str
    ways: tuple[str, ...]
    eased: tuple[Easing, ...]
    gaps: int
    away_seconds: int
    sharp_told: Mapping[str, Any] | None


def sessions(events: Iterable[Event]) -> list[Session]:
    """List the sessions of a log, those of the latest day first; any order of arrival, any repetition.

    Corrections are applied and withdrawn sessions left out. Within a day the one begun last comes first, by its id.
    """
    told = [_session(event) for event in standing(events) if event.kind == "session_finished"]
    return sorted(told, key=lambda session: (session.on, session.id), reverse=True)


def _session(event: Event) -> Session:
    body = event.body
    away = _seconds_away(body.get("gaps"))
    arms = {arm: body["arms"][arm] for arm in ARMS if arm in body["arms"]}
    return Session(
        id=event.id,
        on=event.on,
        routine=body["routine"],
        worst={arm: told.get("worst") for arm, told in arms.items()},
        sharp=tuple(arm for arm, told in arms.items() if told.get("sharp", False)),
        ended=body["ended"],
        why=body.get("why", ""),
        asked_steps=body["asked_steps"],
        done_steps=body["done_steps"],
        note=body.get("note", "").strip(),
        ways=tuple(dict.fromkeys(body.get("ways", ()))),
        eased=_easings(body.get("eased", ())),
        gaps=len(away),
        away_seconds=sum(away),
        sharp_told=body.get("sharp_told"),
    )


def _easings(told: Iterable[Mapping[str, Any]]) -> tuple[Easing, ...]:
    counted = Counter((entry["what"], entry.get("movement", "")) for entry in told)
    return tuple(Easing(what, movement, times) for (what, movement), times in counted.items())


def _seconds_away(gaps: object) -> list[int]:
    # No check of the entry covers its gaps, since a session must not be refused for them: what is no gap is no gap.
    pairs = gaps if isinstance(gaps, list) else []
    return [pair[1] for pair in pairs if isinstance(pair, list) and [type(part) for part in pair] == [int, int]]

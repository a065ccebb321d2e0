"""What a log says of each session: how it ended, how it felt, how it was done, and what was eased.

A phone records a session once, at its end. Where the client left a session, the phone records it when the client later
answers for it. So the log holds ends of sessions and no starts. Knows kinds of events; nothing of doses or words.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import ARMS, Event


@dataclass(frozen=True)
class Easing:
    """A lever that was eased (of `kinds.EASINGS`), from which movement on, and how often."""

    lever: str
    movement: str
    times: int


@dataclass(frozen=True)
class Session:
    """One session, with corrections applied.

    Attributes:
        id: The id of its entry.
        on: Its day.
        routine: The version that it followed.
        worst: For each arm that worked, its worst discomfort, 0-10, or None where no number was given.
        sharp: The arms in which there was sharp pain.
        ended: One of `kinds.ENDINGS`.
        why: The reason given for stopping, one of `kinds.WHYS`.
        asked_steps, done_steps: Working steps.
        note: The client's note, one line; may be empty.
        ways: How it was done, of `kinds.WAYS`.
        eased: The easings, in the order in which each first came.
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
    """List the sessions of a log, the latest day first; order and repetition of the events do not matter.

    Corrections are applied, and withdrawn sessions are left out. Within a day the session with the highest id, which
    began last, comes first.
    """
    listed = [_session(event) for event in corrected_entries(events) if event.kind == "session_finished"]
    return sorted(listed, key=lambda session: (session.on, session.id), reverse=True)


def _session(event: Event) -> Session:
    body = event.body
    away = _seconds_away(body.get("gaps"))
    arms = {arm: body["arms"][arm] for arm in ARMS if arm in body["arms"]}
    return Session(
        id=event.id,
        on=event.on,
        routine=body["routine"],
        worst={arm: report.get("worst") for arm, report in arms.items()},
        sharp=tuple(arm for arm, report in arms.items() if report.get("sharp", False)),
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


def _easings(eased: Iterable[Mapping[str, Any]]) -> tuple[Easing, ...]:
    counted = Counter((entry["what"], entry.get("movement", "")) for entry in eased)
    return tuple(Easing(lever, movement, times) for (lever, movement), times in counted.items())


def _seconds_away(gaps: object) -> list[int]:
    # The codec does not check gaps, because a session must not be refused for a malformed gap. Here such gaps are ignored.
    pairs = gaps if isinstance(gaps, list) else []
    return [pair[1] for pair in pairs if isinstance(pair, list) and [type(part) for part in pair] == [int, int]]

"""The screening before the first session: what the client ticked, what waits for the practitioner, and clearing it.

Emergency signs and those that must be seen are held like every warning sign: the phone records them as `warning_raised`
too, and the practitioner releases the hold. The signs of the level 'ask first' hold no arm. They stop only the start, until
the practitioner clears them. Levels are looked up in the content of today; a sign that is not in it is treated as 'ask first'.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import ASK_FIRST, LEVELS, MOST_SIGNS, Event
from webapp.library.shelf import the_shelf
from webapp.records import cases, events
from webapp.records.database import Database, write
from webapp.sync.case.hold import Grounds
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of, of_phones

ALL = -1


class ChangedError(Exception):
    """The signs that wait differ from those on the page: the practitioner must read them before clearing them."""


@dataclass(frozen=True)
class Screening:
    """The screening of one client.

    Attributes:
        answers: The entries of the screening as they count now, by id; two phones may each have one.
        clearances: The practitioner's entries, the oldest first.
        has_trained: Whether a session is in the log. A client who trained before there was a screening is not asked.
        asks_intake: Whether the client is asked for the intake, which the practitioner has not confirmed yet.
        own_intake: What the client told of it, as it counts now, or None.
        withdrawn: The entries of the screening that the client took back or changed, as they were first sent.
    """

    answers: Sequence[Event]
    clearances: Sequence[Event]
    has_trained: bool
    asks_intake: bool = False
    own_intake: Event | None = None
    withdrawn: Sequence[Event] = ()

    @property
    def is_whole(self) -> bool:
        """Whether a phone went through the whole list."""
        return any(answer.body["reached"] == LEVELS[-1] for answer in self.answers)

    @property
    def signs(self) -> list[str]:
        """Every sign that was ticked, once, in the order of the entries."""
        return list(dict.fromkeys(sign for answer in self.answers for sign in answer.body["signs"]))

    @property
    def taken_back(self) -> list[tuple[date, str]]:
        """The signs to ask about that were ticked once and are not ticked now, each with the day of its entry.

        The signs of other levels are not among them: each of those is an entry of its own.
        """
        now, level_of = set(self.signs), the_shelf().level_of
        ticked = dict.fromkeys((entry.on, sign) for entry in self.withdrawn for sign in entry.body["signs"])
        return [(on, sign) for on, sign in ticked if sign not in now and level_of(sign) in (None, ASK_FIRST)]

    @property
    def waiting(self) -> list[str]:
        """The ticked signs that the practitioner must clear before the start."""
        cleared = {sign for clearance in self.clearances for sign in clearance.body["signs"]}
        level_of = the_shelf().level_of
        return [sign for sign in self.signs if level_of(sign) in (None, ASK_FIRST) and sign not in cleared]

    @property
    def seal(self) -> str:
        """A text that identifies the signs that wait: a hash of their ids."""
        return hashlib.sha256(repr(self.waiting).encode()).hexdigest()

    @property
    def is_of_this_list(self) -> bool:
        """Whether the list of today was asked, and not an earlier one."""
        return all(answer.body["asked_list"] == the_shelf().signs_mark for answer in self.answers)

    @property
    def waits_for(self) -> Literal["screening", "intake", "practitioner", "nothing"]:
        """What the first session waits for."""
        if not self.is_whole and not self.has_trained:
            return "screening"
        if self.asks_intake:
            return "practitioner" if self.own_intake else "intake"
        return "practitioner" if self.waiting else "nothing"


def screening_of(db: Database, client: int) -> Screening:
    """Return the screening of a client, from the client's log."""
    logged = entries_of(events.of_screening(db, client))
    answers = [event for event in corrected_entries(of_phones(logged)) if event.kind == "screening_answered"]
    withdrawn = [event for event in logged if event.kind == "screening_answered" and event not in answers]
    clearances = sorted((event for event in logged if event.kind == "screening_cleared"), key=lambda event: event.id)
    has_trained, asks_intake = events.is_any_of(db, client, "session_finished"), cases.asks_intake(db, client)
    own_intake = _told(db, client) if asks_intake else None
    return Screening(answers, clearances, has_trained, asks_intake, own_intake, withdrawn)


def _told(db: Database, client: int) -> Event | None:
    """Return the last intake that the client told."""
    logged = entries_of(events.latest_of(db, client, ("intake_told", "entry_corrected"), ALL))
    return max(
        (event for event in corrected_entries(of_phones(logged)) if event.kind == "intake_told"),
        key=lambda event: (event.on, event.id),
        default=None,
    )


def clear(db: Database, client: int, seen: str, grounds: Grounds, on: date, *, now: datetime) -> None:
    """Let a client start in spite of signs of the level 'ask first'.

    Args:
        db: The records.
        client: The client's key.
        seen: The seal of the signs that the practitioner has read.
        grounds: The reason, and the people behind it.
        on: The client's local day.
        now: The instant of the call, in UTC.

    Raises:
        ChangedError: Other signs wait than those that the practitioner has read; nothing was stored.
    """
    with write(db):
        screening = screening_of(db, client)
        if seen != screening.seal:
            raise ChangedError
        for first in range(0, len(screening.waiting), MOST_SIGNS):
            body = {"signs": screening.waiting[first : first + MOST_SIGNS], **grounds.to_body()}
            practice_events.put(db, client, "screening_cleared", on, body, now)

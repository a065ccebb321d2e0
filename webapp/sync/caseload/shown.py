"""What the caseload shows of a client: on one day, and as a summary of the coming days."""

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from webapp.events.course_set import SetCourse
from webapp.sync.caseload.glance import DayGlance, Glance


@dataclass(frozen=True)
class ArmShown:
    """One arm on one day, as the caseload shows it.

    Attributes:
        arm: The arm.
        mode: training, resting or held; also held if sharp pain or a warning sign was reported on the day itself.
        morning: The rating of the last morning report, or None.
        morning_on: The day of that report, or None.
        last_session_on: The last day with a session, or None. It may be the next day, since a phone may be in a zone ahead.
    """

    arm: str
    mode: str
    morning: int | None
    morning_on: date | None
    last_session_on: date | None


@dataclass(frozen=True)
class Span:
    """What the caseload shows from a day on, until the next span begins."""

    since: date
    arms: tuple[ArmShown, ...]


@dataclass(frozen=True)
class Summary:
    """What the caseload shows of a client, day by day.

    Attributes:
        zone: The client's time zone.
        spans: The spans from the day on which the summary was made, the earliest first.
        until: The first day that the summary does not cover.
        start_waits: Whether the first session waits for the practitioner.
        unread_letters: Letters of the client that the practice has not read.
        asked_until: The first day with nothing to ask about, or None; see `to_ask.asked_until`.
        courses: The courses that the practice has set, by their first day.
    """

    zone: str
    spans: tuple[Span, ...]
    until: date
    start_waits: bool
    unread_letters: int
    asked_until: date | None
    courses: tuple[SetCourse, ...]

    def on(self, day: date) -> tuple[ArmShown, ...] | None:
        """Return the arms as shown on a day, or None if the summary does not cover the day."""
        if day >= self.until:
            return None
        return next((span.arms for span in reversed(self.spans) if span.since <= day), None)


@dataclass(frozen=True)
class Shown:
    """A client's local day, the arms as shown on it, what waits as in `Summary`, the day's course, and the glance of the day.

    `asked_until` is None on a day with nothing to ask about.
    """

    today: date
    arms: tuple[ArmShown, ...]
    start_waits: bool
    unread_letters: int
    asked_until: date | None
    course: SetCourse
    glance: DayGlance
    whole: Glance


class ShownToday(NamedTuple):
    """What the caseload shows of some clients.

    Attributes:
        shown: By the client's key.
        unreadable: The keys of the clients whose log cannot be folded; nothing is shown of them.
    """

    shown: dict[int, Shown]
    unreadable: frozenset[int]

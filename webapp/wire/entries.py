"""An entry of the log as JSON, kind by kind.

These are the shapes that the fold reads. What an entry must hold to be stored is checked by `events/codec.py`, which names
each fault; it keeps fields and kinds that are not known here, and so does the phone.
"""

from typing import Annotated, Any

from msgspec import UNSET, Meta, Struct, UnsetType

from webapp.wire.activities import NamedBody, RatedBody
from webapp.wire.arriving import ClearedBody, ConfirmedBody, IntakeBody, IntakeCorrectedBody, ScreeningBody
from webapp.wire.day import AwayBody, ChosenBody, ExposureBody, HabitBody, MorningBody
from webapp.wire.finishing import CourseBody
from webapp.wire.letters import AnswerBody, LetterBody, LettersBody
from webapp.wire.releases import ReleaseBody
from webapp.wire.returning import WayBody, WayEndedBody
from webapp.wire.sessions import SessionBody

Replacement = Annotated[dict[str, Any], Meta(extra={"text": "object"})]
"""A body of the kind that it replaces."""


class ReceivedBody(Struct, kw_only=True):
    """A routine version that came, and the hash of its bundle."""

    version: int
    bundle: str | UnsetType = UNSET


class ReadBody(Struct, kw_only=True):
    """A note that was read, by the version it came with."""

    version: int


class WarningBody(Struct, kw_only=True):
    """A warning sign and the arms that it stops; without `holds` it stops them."""

    sign: str
    arms: list[str]
    holds: bool | UnsetType = UNSET


class CorrectionBody(Struct, kw_only=True):
    """A correction: the body that takes the place of an earlier entry's; None withdraws the entry."""

    replaces: str
    body: Replacement | UnsetType | None = UNSET


class Entry(Struct, kw_only=True, tag_field="kind"):
    """What every entry holds: `on` is the local day from 03:00, `at` the instant (UTC), `seq` the device's counter from 1."""

    id: str
    v: int
    on: str
    at: str
    zone: str
    seq: int


class SessionFinished(Entry, tag="session_finished", kw_only=True):
    """A session is over."""

    body: SessionBody


class MorningReported(Entry, tag="morning_reported", kw_only=True):
    """A morning was reported."""

    body: MorningBody


class AwayNoted(Entry, tag="away_noted", kw_only=True):
    """Days without the app were told of."""

    body: AwayBody


class ExposureNoted(Entry, tag="exposure_noted", kw_only=True):
    """Something besides the routine loaded the arm."""

    body: ExposureBody


class HabitNoted(Entry, tag="habit_noted", kw_only=True):
    """A habit was ticked."""

    body: HabitBody


class LetterWritten(Entry, tag="letter_written", kw_only=True):
    """A letter was written."""

    body: LetterBody


class LetterAnswered(Entry, tag="letter_answered", kw_only=True):
    """The practice wrote to the client."""

    body: AnswerBody


class LetterSeen(Entry, tag="letter_seen", kw_only=True):
    """The practice has read letters of the client."""

    body: LettersBody


class LetterRead(Entry, tag="letter_read", kw_only=True):
    """The client has read letters of the practice."""

    body: LettersBody


class RoutineReceived(Entry, tag="routine_received", kw_only=True):
    """A routine version came to the phone."""

    body: ReceivedBody


class NoteRead(Entry, tag="note_read", kw_only=True):
    """A note was read."""

    body: ReadBody


class WarningRaised(Entry, tag="warning_raised", kw_only=True):
    """A warning sign was reported."""

    body: WarningBody


class ScreeningAnswered(Entry, tag="screening_answered", kw_only=True):
    """The client went through the list of warning signs before the first session."""

    body: ScreeningBody


class ScreeningCleared(Entry, tag="screening_cleared", kw_only=True):
    """The practice agreed to the start."""

    body: ClearedBody


class ActivitiesNamed(Entry, tag="activities_named", kw_only=True):
    """The practice wrote down the client's own activities."""

    body: NamedBody


class ActivityRated(Entry, tag="activity_rated", kw_only=True):
    """The client rated one of them."""

    body: RatedBody


class IntakeTold(Entry, tag="intake_told", kw_only=True):
    """The client told the intake."""

    body: IntakeBody


class IntakeConfirmed(Entry, tag="intake_confirmed", kw_only=True):
    """The practice confirmed the intake."""

    body: ConfirmedBody


class IntakeCorrected(Entry, tag="intake_corrected", kw_only=True):
    """The practice corrected the intake."""

    body: IntakeCorrectedBody


class EntryCorrected(Entry, tag="entry_corrected", kw_only=True):
    """An earlier entry was corrected or withdrawn."""

    body: CorrectionBody


class HoldReleased(Entry, tag="hold_released", kw_only=True):
    """The practice ended a hold."""

    body: ReleaseBody


class HabitChosen(Entry, tag="habit_chosen", kw_only=True):
    """The practice chose a habit."""

    body: ChosenBody


class CourseSet(Entry, tag="course_set", kw_only=True):
    """The practice set the course: training, maintenance, or ended."""

    body: CourseBody


class ReturnOpened(Entry, tag="return_opened", kw_only=True):
    """The practice opened the way back to a sport or to work."""

    body: WayBody


class ReturnEnded(Entry, tag="return_ended", kw_only=True):
    """The practice ended it."""

    body: WayEndedBody


AnyEntry = (
    SessionFinished
    | MorningReported
    | AwayNoted
    | ExposureNoted
    | HabitNoted
    | LetterWritten
    | LetterAnswered
    | LetterSeen
    | LetterRead
    | RoutineReceived
    | NoteRead
    | WarningRaised
    | ScreeningAnswered
    | ScreeningCleared
    | ActivitiesNamed
    | ActivityRated
    | IntakeTold
    | IntakeConfirmed
    | IntakeCorrected
    | EntryCorrected
    | HoldReleased
    | HabitChosen
    | CourseSet
    | ReturnOpened
    | ReturnEnded
)
"""Every kind that is known here."""

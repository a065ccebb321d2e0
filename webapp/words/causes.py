"""Why a client stands where in the caseload, in one line for a practitioner; decides nothing."""

from datetime import date
from typing import Protocol

from babel.dates import format_date

from webapp.words.catalogue import Words, mark, mark_plural
from webapp.words.findings import Counted, Weights, finding_text

LETTER, START, TO_ASK, PHONE, NOT_ARRIVED = "letter", "start-waits", "to-ask", "phone-to-confirm", "not-arrived"
WAY_STOPPED = "way-stopped"
STOPPED_BY_FLARE = mark("The way back stopped at step %(step)s of %(steps)s: the arm flared up again within 28 days.")
STOPPED_BY_TRIES = mark("The way back stopped at step %(step)s of %(steps)s: the third try did not go well.")
SECOND_FLARE = "return-second-flare"
ARCHIVED = "archived"
WAITING = {
    START: mark("The start waits for you."),
    TO_ASK: mark("Told of something to ask about."),
    PHONE: mark("A phone waits for you to confirm it."),
    NOT_ARRIVED: mark("The newest version has not arrived."),
    ARCHIVED: mark("In the archive, and something came in after that."),
}
LETTERS = mark_plural("%(n)s letter waits for you.", "%(n)s letters wait for you.")
FLARED_TWICE = mark("Flared twice in seven days, last on %(day)s.")
FLARED_OFTEN = mark("Flared %(count)s times in seven days, last on %(day)s.")
TWICE = 2

SINCE_TODAY = mark("Since today.")
SINCE_YESTERDAY = mark("Since yesterday.")
SINCE_WEEKDAY = mark("Since %(weekday)s.")
SINCE_DAY = mark("Since %(day)s.")
DAYS_OF_A_WEEK = 7
DAYS_OF_A_SEASON = 180
GOES_ON_SINCE = frozenset(
    {"sharp", "held-after-rest", "rest-long", "silent", "no-session", "mornings-missing", "sore-long", "floor",
     "tender-at-half", "same-answers", "goal-settled", "resting", "away", "tender", "aching", "not-rated",
     "done-in-part", "jump", "by-hand", "plateau", WAY_STOPPED, LETTER, START, TO_ASK, NOT_ARRIVED,
     ARCHIVED}
)  # fmt: skip
"""The causes whose first day says when it began. The first day of the others is that of the days that were looked at."""

NAMES = {
    "sharp": mark("Sharp pain or a sign"),
    "held-after-rest": mark("Held after a week of rest"),
    "rest-long": mark("Rest that goes on"),
    "flared-twice": mark("Flared twice in a week"),
    WAY_STOPPED: mark("A way back stopped"),
    LETTER: mark("A letter waits"),
    START: mark("The start waits"),
    TO_ASK: mark("Something to ask about"),
    PHONE: mark("A phone to confirm"),
    ARCHIVED: mark("Archived, and heard again"),
    "silent": mark("Silent for a week"),
    NOT_ARRIVED: mark("A version not arrived"),
    "no-session": mark("No session for some days"),
    "mornings-missing": mark("No morning reports"),
    "week-worse": mark("A worse week"),
    "sore-long": mark("Sore for long"),
    "floor": mark("At the lowest dose"),
    "tender-at-half": mark("Sore at half range"),
    "not-better-6-weeks": mark("Not better in six weeks"),
    "not-better-4-weeks": mark("Not better in four weeks"),
    "same-answers": mark("Always the same answers"),
    "usual-too-low": mark("Usual pain set too low"),
    "resting": mark("No climb: flares and rest"),
    "away": mark("No climb: days missed"),
    "tender": mark("No climb: sore mornings"),
    "aching": mark("No climb: aching sessions"),
    "not-rated": mark("No climb: not rated"),
    "done-in-part": mark("No climb: done in part"),
    "jump": mark("No climb: a jump"),
    "by-hand": mark("No climb: set by hand"),
    "plateau": mark("No climb: no single cause"),
    "usual-too-high": mark("Usual pain set too high"),
    "goal-settled": mark("At the goal"),
    "peak": mark("A heavy moment"),
    "jump-ahead": mark("A jump is near"),
}
"""The name of each kind of cause, for the list to choose from."""


def weekday_text(words: Words, on: date) -> str:
    """Write the name of a day's weekday."""
    return str(format_date(on, "EEEE", locale=words.cldr))


def short_day_text(words: Words, on: date, today: date) -> str:
    """Write a day as "9 Mar", with its year where it lies long ago."""
    is_near = (today - on).days < DAYS_OF_A_SEASON
    return str(format_date(on, "d MMM" if is_near else "d MMM y", locale=words.cldr))


class SpottedFinding(Counted, Protocol):
    """A finding as the caseload keeps it."""

    @property
    def last(self) -> date:
        """The last day that shows it."""


class Stop(Protocol):
    """How a way back stopped."""

    @property
    def why(self) -> str:
        """The id of the rule that stopped it."""

    @property
    def step(self) -> int:
        """The step at which it stopped."""

    @property
    def steps(self) -> int:
        """The number of steps of its ladder."""


class Reason(Protocol):
    """One reason to look at a client: its kind, since when, and the finding; None for what waits for the practice."""

    @property
    def kind(self) -> str:
        """A key of `NAMES`."""

    @property
    def since(self) -> date | None:
        """The first day that shows it."""

    @property
    def spotted(self) -> SpottedFinding | None:
        """The finding, or None."""

    @property
    def stopped(self) -> Stop | None:
        """The way back that stopped, where that is the reason."""


def cause_text(words: Words, cause: Reason, letters: int, weights: Weights = ()) -> str:
    """Return what the cause is, with its evidence.

    Args:
        words: The language.
        cause: The cause.
        letters: How many letters of the client wait.
        weights: The weights at home, as entered, so that loads keep their unit.
    """
    if cause.kind == LETTER:
        return words.plural(*LETTERS, letters)
    if cause.stopped:
        text = STOPPED_BY_FLARE if cause.stopped.why == SECOND_FLARE else STOPPED_BY_TRIES
        return words.say(text, step=cause.stopped.step, steps=cause.stopped.steps)
    if cause.spotted is None:
        return words.say(WAITING[cause.kind])
    if cause.kind == "flared-twice":
        text = FLARED_TWICE if cause.spotted.count == TWICE else FLARED_OFTEN
        return words.say(text, count=cause.spotted.count, day=weekday_text(words, cause.spotted.last))
    return finding_text(words, cause.spotted, weights)


def since_text(words: Words, cause: Reason, today: date) -> str:
    """Return since when it goes on, or "" where its first day says nothing."""
    if cause.since is None or cause.kind not in GOES_ON_SINCE:
        return ""
    ago = (today - cause.since).days
    if ago <= 1:
        return words.say(SINCE_YESTERDAY if ago == 1 else SINCE_TODAY)
    if ago < DAYS_OF_A_WEEK:
        return words.say(SINCE_WEEKDAY, weekday=weekday_text(words, cause.since))
    return words.say(SINCE_DAY, day=short_day_text(words, cause.since, today))


def cause_name(words: Words, kind: str) -> str:
    """Return the name of a kind of cause."""
    return words.say(NAMES[kind])

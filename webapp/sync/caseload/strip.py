"""The strip of an arm: what each of some days brought, as the caseload draws it. Pure, except `sport_days`, which reads the log."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from webapp.dosing.course import NOTHING, ClosedDay, DayFacts
from webapp.dosing.responses import sore_limit
from webapp.events.daybook import corrected_entries
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.folding.fold import ONE_DAY
from webapp.sync.log.diary import entries_of, of_phones

STRIP_DAYS = 28
SESSION, REST, HELD, NOTHING_HEARD = "s", "r", "h", "."


@dataclass(frozen=True)
class Strip:
    """Some days of one arm, in a row.

    Attributes:
        arm: The arm.
        first: The first day.
        mornings: For each day the rating of its own morning, 0-10, or None.
        marks: One letter for each day: a session, a day of rest, a day held, or nothing heard.
        sport: One letter for each day: "y" for a day with sport, else ".".
        sore: One letter for each day: "y" for a sore morning, by the core's limit over the usual one, else ".".
    """

    arm: str
    first: date
    mornings: tuple[int | None, ...]
    marks: str
    sport: str
    sore: str

    def until(self, today: date) -> "Strip":
        """Return the part of the strip that ends with a day, at most `STRIP_DAYS` long."""
        end = (today - self.first).days + 1
        start = max(0, end - STRIP_DAYS)
        return Strip(
            self.arm,
            self.first + start * ONE_DAY,
            self.mornings[start:end],
            self.marks[start:end],
            self.sport[start:end],
            self.sore[start:end],
        )


def strip_of(
    arm: str,
    usual: int,
    facts: Mapping[date, DayFacts],
    closed: Sequence[ClosedDay],
    sport: Collection[date],
    days: Sequence[date],
) -> Strip:
    """Return the strip of an arm.

    Args:
        arm: The arm.
        usual: The usual morning pain, 0-10.
        facts: What is known of each day; the rating in it is of the morning after.
        closed: The arm's closed days.
        sport: The days with sport.
        days: The days of the strip, one after the other.
    """
    modes = {day.on: day.state_before.mode for day in closed if day.on >= days[0]}
    mornings, limit = tuple(facts.get(on - ONE_DAY, NOTHING).morning for on in days), sore_limit(usual)
    return Strip(
        arm,
        days[0],
        mornings,
        "".join(_mark(modes.get(on, ""), facts.get(on, NOTHING)) for on in days),
        "".join("y" if on in sport else "." for on in days),
        "".join("y" if morning is not None and morning > limit else "." for morning in mornings),
    )


def _mark(mode: str, facts: DayFacts) -> str:
    if mode == "held":
        return HELD
    if facts.sessions:
        return SESSION
    return REST if mode == "resting" else NOTHING_HEARD


def sport_days(db: Database, client: int, since: date) -> frozenset[date]:
    """Return the days on which a client told of sport, from a day on."""
    logged = events.since_day(db, client, since.isoformat())
    noted = corrected_entries(of_phones(entries_of(logged)))
    return frozenset(each.on for each in noted if each.kind == "exposure_noted" and each.body["what"] == "sport")

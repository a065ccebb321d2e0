"""The strip of a line as a drawing: for each layer the path data of an SVG, and the numbers of its text. Returns no markup."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta

from webapp.dosing.figures import FLARED_RATING
from webapp.sync.caseload.strip import HELD, REST, SESSION, Strip

DAY_WIDTH, COLUMN, WEEK, WEEK_GAP = 12, 9, 7, 4
BASE, FEWEST, PER_POINT = 25, 2, 2
SLANT = 4
BOX_TOP, BOX_BOTTOM = 28, 34
SPORT_TOP, SPORT_BOTTOM = 37, 43
HEIGHT = 44
STRIPE, STRIPE_GAP = 2, 1


@dataclass(frozen=True)
class StripDrawn:
    """A strip as path data, in a box of `width` by `HEIGHT` units with the oldest day on the left.

    Attributes:
        arm: The arm.
        width: The width of the box.
        mornings: Columns of mornings under the rating that flares.
        high: Columns of mornings from that rating up, cut on the slant.
        sessions: Boxes of days with a session.
        rests: Strokes of days of rest.
        holds: Bars of days held.
        sport: Triangles of days with sport.
        counts: The numbers of the text: mornings told, the highest of them or None, and the days of each kind.
    """

    arm: str
    width: int
    mornings: str
    high: str
    sessions: str
    rests: str
    holds: str
    sport: str
    counts: dict[str, int | None]


ONE_DAY = timedelta(days=1)


def left_of(number: int) -> int:
    """Return where the column of a day begins; a gap stands after each week."""
    return number * DAY_WIDTH + number // WEEK * WEEK_GAP


def drawn(strip: Strip, *, is_striped: bool) -> StripDrawn:
    """Return a strip as path data; the columns of a left arm beside a right one are striped."""
    rated = [(left_of(number), pain) for number, pain in enumerate(strip.mornings) if pain is not None]
    high = [(x, pain) for x, pain in rated if pain >= FLARED_RATING.value]
    low = [(x, pain) for x, pain in rated if pain < FLARED_RATING.value]
    at = {mark: [left_of(n) for n, each in enumerate(strip.marks) if each == mark] for mark in (SESSION, REST, HELD)}
    played = [left_of(number) for number, each in enumerate(strip.sport) if each == "y"]
    return StripDrawn(
        strip.arm,
        left_of(len(strip.mornings) - 1) + DAY_WIDTH,
        "".join(_column(x, pain, is_striped=is_striped) for x, pain in low),
        "".join(_cut_column(x, pain) for x, pain in high),
        "".join(f"M{x + 1} {BOX_TOP}h{COLUMN - 1}v{BOX_BOTTOM - BOX_TOP}h{1 - COLUMN}Z" for x in at[SESSION]),
        "".join(f"M{x + 1} {BOX_BOTTOM}L{x + COLUMN} {BOX_TOP}" for x in at[REST]),
        "".join(f"M{x} {BOX_TOP}h{DAY_WIDTH}v{BOX_BOTTOM - BOX_TOP}h{-DAY_WIDTH}Z" for x in at[HELD]),
        "".join(f"M{x + 1} {SPORT_BOTTOM}L{x + 5} {SPORT_TOP}L{x + 9} {SPORT_BOTTOM}Z" for x in played),
        _told(strip, rated),
    )


def _told(strip: Strip, rated: list[tuple[int, int]]) -> dict[str, int | None]:
    return {
        "mornings": len(rated),
        "highest": max((pain for _, pain in rated), default=None),
        "sessions": strip.marks.count(SESSION),
        "rests": strip.marks.count(REST),
        "holds": strip.marks.count(HELD),
        "sport": strip.sport.count("y"),
    }


def _top(pain: int) -> int:
    return BASE - FEWEST - PER_POINT * pain


def _column(x: int, pain: int, *, is_striped: bool) -> str:
    if not is_striped:
        return f"M{x} {BASE}V{_top(pain)}h{COLUMN}V{BASE}Z"
    return "".join(f"M{x} {bottom}v{-STRIPE}h{COLUMN}v{STRIPE}Z" for bottom in _stripes(pain))


def _stripes(pain: int) -> Iterator[int]:
    yield from range(BASE, _top(pain), -(STRIPE + STRIPE_GAP))


def _cut_column(x: int, pain: int) -> str:
    return f"M{x} {BASE}V{_top(pain) + SLANT}L{x + COLUMN} {_top(pain)}V{BASE}Z"


def all_drawn(strips: Iterable[Strip]) -> list[StripDrawn]:
    """Return the strips of one client as drawings."""
    listed = list(strips)
    return [drawn(strip, is_striped=len(listed) > 1 and strip.arm == "left") for strip in listed]

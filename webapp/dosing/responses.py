"""How a day went, classed from three ratings.

A rating is a whole number 0 to 10 on the numeric pain rating scale. The cube holds the class
of every combination, so that a phone looks it up and needs no threshold of its own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.settings import Tuning

RESPONSES = ("settled", "tender", "flared", "sharp", "unreported", "missed")
LETTERS = {"settled": "s", "tender": "t", "flared": "f", "sharp": "x", "unreported": "u", "missed": "m"}
RATINGS = range(11)

NO_SESSION = "no session"
UNRATED = "unrated"
DURING_AXIS = (NO_SESSION, UNRATED, *RATINGS)
KNOWN_AXIS = (None, *RATINGS)

During = int | str
"""A rating, or `NO_SESSION`, or `UNRATED` for a session that was not rated."""


class Ratings(NamedTuple):
    """What a day is classed by: the ratings, the usual morning, and the settled ceiling."""

    during: During
    morning: int | None
    before: int
    usual: int
    settled_during: int

    def rated(self, limit: float) -> bool:
        """Say whether the sessions were rated this much or more."""
        return isinstance(self.during, int) and self.during >= limit

    def woke(self, limit: float) -> bool:
        """Say whether the morning was rated this much or more."""
        return self.morning is not None and self.morning >= limit


@dataclass(frozen=True)
class ClassRule:
    """One row of the classing table.

    Attributes:
        id: Stable word; the key of its reason in words/.
        response: What the day is then classed as.
        condition: In plain words.
        holds: The same, as a test of (ratings, limit).
        basis: A key of content/sources.toml.
        limit: The number that the condition turns on, where it has one.
    """

    id: str
    response: str
    condition: str
    holds: Callable[[Ratings, float], bool]
    basis: str
    limit: float = 0


def _rose(ratings: Ratings, rise: float) -> bool:
    if ratings.morning is None or ratings.morning < figures.FLARED_FROM.value:
        return False
    return ratings.morning >= ratings.before + rise and ratings.morning > ratings.usual


def _calm(ratings: Ratings, most: float) -> bool:
    if not isinstance(ratings.during, int) or ratings.morning is None:
        return False
    return ratings.during <= ratings.settled_during and ratings.morning <= max(most, ratings.usual)


CLASSES: tuple[ClassRule, ...] = (
    ClassRule("sharp-during", "sharp", "a session rated this much or more",
              Ratings.rated, "boonstra-2016", figures.SHARP_RATING.value),
    ClassRule("sharp-morning", "sharp", "a morning rated this much or more",
              Ratings.woke, "boonstra-2016", figures.SHARP_RATING.value),
    ClassRule("flared-during", "flared", "a session rated this much or more",
              Ratings.rated, "nhs-inform-elbow", figures.FLARED_RATING.value),
    ClassRule("flared-morning", "flared", "a morning rated this much or more",
              Ratings.woke, "nhs-inform-elbow", figures.FLARED_RATING.value),
    ClassRule("flared-rise", "flared", "a morning this many points over the one before, above usual and at least 3",
              _rose, "nprs-elbow-2025", figures.FLARED_RISE.value),
    ClassRule("no-session", "missed", "no session",
              lambda ratings, _: ratings.during == NO_SESSION, "own-choice"),
    ClassRule("no-report", "unreported", "a session, and no morning report",
              lambda ratings, _: ratings.morning is None, "own-choice"),
    ClassRule("calm", "settled", "sessions at the settled ceiling or under, the morning at this or the usual or under",
              _calm, "silbernagel-2007", figures.SETTLED_MORNING.value),
    ClassRule("tender-unrated", "tender", "a session that was not rated",
              lambda ratings, _: ratings.during == UNRATED, "own-choice"),
    ClassRule("tender-during", "tender", "sessions over the settled ceiling",
              lambda ratings, _: ratings.rated(ratings.settled_during + 1), "silbernagel-2007"),
    ClassRule("tender-morning", "tender", "always", lambda *_: True, "silbernagel-2007"),
)  # fmt: skip


def deciding_rule(
    during: During,
    morning: int | None,
    before: int | None,
    usual: int,
    tuning: Tuning,
    classes: tuple[ClassRule, ...] = CLASSES,
) -> ClassRule:
    """Find the row that classes one day of one arm: the first that fits.

    Args:
        during: Worst discomfort in any session of the day, `UNRATED` or `NO_SESSION`.
        morning: The next morning's rating, or None while there is no report.
        before: The last morning known before that one; None stands for the usual one.
        usual: The client's usual morning pain, 0-5.
        tuning: Holds the most discomfort that still counts as settled.
        classes: The table.
    """
    earlier = usual if before is None else before
    ratings = Ratings(during, morning, earlier, usual, tuning.settled_during)
    for rule in classes:
        if rule.holds(ratings, rule.limit):
            return rule
    raise LookupError(ratings)


def classify(during: During, morning: int | None, before: int | None, usual: int, tuning: Tuning) -> str:
    """Class one day of one arm as one of `RESPONSES`; the arguments are `deciding_rule`'s."""
    return deciding_rule(during, morning, before, usual, tuning).response


def cube_index(during: During, morning: int | None, before: int | None) -> int:
    """Give the place of one combination in the cube's letters."""
    place = DURING_AXIS.index(during)
    for rating in (morning, before):
        place = place * len(KNOWN_AXIS) + (0 if rating is None else rating + 1)
    return place


def cube(usual: int, tuning: Tuning, classes: tuple[ClassRule, ...] = CLASSES) -> str:
    """Class every combination: 13 x 12 x 12 letters of `LETTERS`, in the order of `cube_index`."""
    cells = product(DURING_AXIS, KNOWN_AXIS, KNOWN_AXIS)
    return "".join(LETTERS[deciding_rule(*cell, usual, tuning, classes).response] for cell in cells)

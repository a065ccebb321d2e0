"""How a day went: its class, from the work done and three ratings.

A rating is a whole number 0 to 10 on the numeric pain rating scale. The cube holds the class
of every combination, so a phone looks the class up and needs no thresholds.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.settings import Tuning

LETTERS = {
    "settled": "s",
    "partly": "p",
    "unreported": "u",
    "aching": "a",
    "aching_untold": "b",
    "tender": "t",
    "tender_over": "v",
    "flared": "f",
    "sharp": "x",
    "sore": "o",
    "flared_idle": "g",
    "missed": "m",
}
"""Every response that the automaton tells apart, and its letter in the cube.

`aching_untold` is aching without a morning report, `tender_over` tender above `sore_limit`, `flared_idle` a flare on
a day without a session.
"""
RESPONSES = tuple(LETTERS)
IDLE = ("sore", "flared_idle", "missed")
"""Responses of a day without a session."""
SHOWN = {name: name for name in RESPONSES} | {
    "aching_untold": "aching",
    "tender_over": "tender",
    "flared_idle": "flared",
}
"""The nine names that people and JSON read, by response."""

NONE, PART, ENOUGH = "none", "part", "enough"
DONE_AXIS = (NONE, PART, ENOUGH)
WHOLE_SHARE = 1000
"""The share of all of the asked work, in thousandths."""
RATINGS = range(11)
KNOWN_AXIS = (None, *RATINGS)


def done_of(sessions: int, shares: Iterable[tuple[str, int]]) -> str:
    """Return how much of a day's asked work was done, of `DONE_AXIS`.

    Args:
        sessions: Sessions with at least one rep.
        shares: For each movement asked, the share of the day's asked work that was done in it, per mille.
    """
    if not sessions:
        return NONE
    enough = figures.ENOUGH_DONE.value * WHOLE_SHARE
    return ENOUGH if all(share >= enough for _, share in shares) else PART


class Ratings(NamedTuple):
    """What a day is classed by: the work done, the ratings, the usual morning, and the settled ceiling."""

    done: str
    during: int | None
    morning: int | None
    before: int
    usual: int
    settled_during: int

    def rated(self, limit: float) -> bool:
        """Say whether the sessions were rated this much or more."""
        return self.during is not None and self.during >= limit

    def woke(self, limit: float) -> bool:
        """Say whether the morning was rated this much or more."""
        return self.morning is not None and self.morning >= limit

    def woke_over(self, limit: float) -> bool:
        """Say whether the morning was rated over this."""
        return self.morning is not None and self.morning > limit


def calm_limit(usual: int) -> int:
    """Return the highest rating of a calm morning: 2, or the usual morning where that is more."""
    return max(int(figures.SETTLED_MORNING.value), usual)


def sore_limit(usual: int) -> int:
    """Return the highest morning that does not make a rest longer and does not make an idle day sore."""
    return max(int(figures.SETTLED_MORNING.value), usual + int(figures.SORE_OVER_USUAL.value))


@dataclass(frozen=True)
class ClassRule:
    """One row of the classing table.

    Attributes:
        id: A stable word; the key of its reason in words/.
        response: The class of a day with a session.
        condition: The condition, in plain words.
        holds: The condition, as a test of (ratings, limit).
        basis: A key of content/sources.toml.
        limit: The number in the condition, where there is one.
        idle: The class of a day without a session, where it differs.
    """

    id: str
    response: str
    condition: str
    holds: Callable[[Ratings, float], bool]
    basis: str
    limit: float = 0
    idle: str = ""

    def response_to(self, ratings: Ratings) -> str:
        """Return the class of a day with these ratings."""
        return self.idle if self.idle and ratings.done == NONE else self.response


def _rose(ratings: Ratings, rise: float) -> bool:
    if ratings.morning is None or ratings.morning < figures.FLARED_FROM.value:
        return False
    return ratings.morning >= ratings.before + rise and ratings.morning > ratings.usual


def _is_far_over_usual(ratings: Ratings, rise: float) -> bool:
    return ratings.woke(figures.FLARED_OVER_USUAL_FROM.value) and ratings.woke(ratings.usual + rise)


CLASSES: tuple[ClassRule, ...] = (
    ClassRule("sharp-during", "sharp", "a session rated this much or more",
              Ratings.rated, "boonstra-2016", figures.SHARP_RATING.value),
    ClassRule("sharp-morning", "sharp", "a morning rated this much or more",
              Ratings.woke, "boonstra-2016", figures.SHARP_RATING.value),
    ClassRule("flared-during", "flared", "a session rated this much or more",
              Ratings.rated, "nhs-inform-elbow", figures.FLARED_RATING.value, "flared_idle"),
    ClassRule("flared-morning", "flared", "a morning rated this much or more",
              Ratings.woke, "nhs-inform-elbow", figures.FLARED_RATING.value, "flared_idle"),
    ClassRule("flared-rise", "flared",
              "a morning of at least 3, above the usual one, and this many points over the lowest of the three before",
              _rose, "nprs-elbow-2025", figures.FLARED_RISE.value, "flared_idle"),
    ClassRule("flared-over-usual", "flared", "a morning of at least 4 and this many points over the usual one",
              _is_far_over_usual, "nprs-elbow-2025", figures.FLARED_OVER_USUAL.value, "flared_idle"),
    ClassRule("sore", "sore", "no session, and the morning over 2 and over the usual one by more than a point",
              lambda ratings, _: ratings.done == NONE and ratings.woke_over(sore_limit(ratings.usual)),
              "nprs-elbow-2025"),
    ClassRule("no-session", "missed", "no session",
              lambda ratings, _: ratings.done == NONE, "own-choice"),
    ClassRule("tender-over", "tender_over", "the morning over 2 and over the usual one by more than a point",
              lambda ratings, _: ratings.woke_over(sore_limit(ratings.usual)), "silbernagel-2007"),
    ClassRule("tender-morning", "tender", "the morning over 2 and over the usual one",
              lambda ratings, _: ratings.woke_over(calm_limit(ratings.usual)), "silbernagel-2007"),
    ClassRule("aching", "aching", "a session over the settled ceiling, and the morning calm",
              lambda ratings, _: ratings.rated(ratings.settled_during + 1) and ratings.morning is not None,
              "silbernagel-2007"),
    ClassRule("aching-untold", "aching_untold", "a session over the settled ceiling, and no morning report",
              lambda ratings, _: ratings.rated(ratings.settled_during + 1), "silbernagel-2007"),
    ClassRule("no-report", "unreported", "no morning report",
              lambda ratings, _: ratings.morning is None, "own-choice"),
    ClassRule("not-rated", "unreported", "a session that was not rated",
              lambda ratings, _: ratings.during is None, "own-choice"),
    ClassRule("part-done", "partly", "all calm, and less than enough done",
              lambda ratings, _: ratings.done == PART, "own-choice"),
    ClassRule("calm", "settled", "all calm, and enough done", lambda *_: True, "silbernagel-2007"),
)  # fmt: skip


def deciding_rule(
    done: str,
    during: int | None,
    morning: int | None,
    before: int | None,
    usual: int,
    tuning: Tuning,
    classes: Iterable[ClassRule] = CLASSES,
) -> tuple[ClassRule, str]:
    """Find the row that classes one day of one arm: the first that fits.

    Args:
        done: How much of the asked work was done, of `DONE_AXIS`.
        during: Worst discomfort in any session of the day, or None where no session was rated.
        morning: The next morning's rating, or None while there is no report.
        before: The lowest morning reported in the three days up to this one; None stands for the usual morning.
        usual: The client's usual morning pain, 0-5.
        tuning: Holds the most discomfort that still counts as settled.
        classes: The table.

    Returns:
        The row, and the response that it gives.
    """
    earlier = usual if before is None else before
    ratings = Ratings(done, during, morning, earlier, usual, tuning.settled_during)
    for rule in classes:
        if rule.holds(ratings, rule.limit):
            return rule, rule.response_to(ratings)
    raise LookupError(ratings)


def classify(done: str, during: int | None, morning: int | None, before: int | None, usual: int, tuning: Tuning) -> str:
    """Class one day of one arm as one of `RESPONSES`; the arguments are `deciding_rule`'s."""
    return deciding_rule(done, during, morning, before, usual, tuning)[1]


def cube_index(done: str, during: int | None, morning: int | None, before: int | None) -> int:
    """Return the position of one combination in the cube's letters."""
    position = DONE_AXIS.index(done)
    for rating in (during, morning, before):
        position = position * len(KNOWN_AXIS) + (0 if rating is None else rating + 1)
    return position


def cube(usual: int, tuning: Tuning, classes: tuple[ClassRule, ...] = CLASSES) -> str:
    """Class every combination: 3 x 12 x 12 x 12 letters of `LETTERS`, in the order of `cube_index`."""
    cells = product(DONE_AXIS, KNOWN_AXIS, KNOWN_AXIS, KNOWN_AXIS)
    return "".join(LETTERS[deciding_rule(*cell, usual, tuning, classes)[1]] for cell in cells)

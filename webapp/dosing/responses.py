"""How a day went, classed from three ratings.

A rating is a whole number 0 to 10 on the numeric pain rating scale. The cube holds the class
of every combination, so that a phone looks it up and needs no threshold of its own.
"""

from itertools import product

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


def _is_sharp(during: During, morning: int | None) -> bool:
    worst = figures.SHARP_RATING.value
    ratings = [rating for rating in (during, morning) if isinstance(rating, int)]
    return any(rating >= worst for rating in ratings)


def _is_flared(during: During, morning: int | None, before: int, usual: int) -> bool:
    worst = figures.FLARED_RATING.value
    if isinstance(during, int) and during >= worst:
        return True
    if morning is None:
        return False
    rose = morning >= before + figures.FLARED_RISE.value
    return morning >= worst or (rose and morning >= figures.FLARED_FROM.value and morning > usual)


def classify(during: During, morning: int | None, before: int | None, usual: int, tuning: Tuning) -> str:
    """Class one day of one arm; the first rule that fits wins.

    Args:
        during: Worst discomfort in any session of the day, `UNRATED` or `NO_SESSION`.
        morning: The next morning's rating, or None while there is no report.
        before: The last morning known before that one; None stands for the usual one.
        usual: The client's usual morning pain, 0-5.
        tuning: Holds the most discomfort that still counts as settled.

    Returns:
        One of `RESPONSES`. Sources: silbernagel-2007, nhs-inform-elbow, nprs-elbow-2025,
        boonstra-2016.
    """
    if _is_sharp(during, morning):
        return "sharp"
    if _is_flared(during, morning, usual if before is None else before, usual):
        return "flared"
    if during == NO_SESSION:
        return "missed"
    if morning is None:
        return "unreported"
    calm = max(figures.SETTLED_MORNING.value, usual)
    if isinstance(during, int) and during <= tuning.settled_during and morning <= calm:
        return "settled"
    return "tender"


def cube_index(during: During, morning: int | None, before: int | None) -> int:
    """Give the place of one combination in the cube's letters."""
    place = DURING_AXIS.index(during)
    for rating in (morning, before):
        place = place * len(KNOWN_AXIS) + (0 if rating is None else rating + 1)
    return place


def cube(usual: int, tuning: Tuning) -> str:
    """Class every combination: 13 x 12 x 12 letters of `LETTERS`, in the order of `cube_index`."""
    cells = product(DURING_AXIS, KNOWN_AXIS, KNOWN_AXIS)
    return "".join(
        LETTERS[classify(during, morning, before, usual, tuning)] for during, morning, before in cells
    )

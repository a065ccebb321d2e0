"""The offers of the review (another usual morning pain or another ceiling) and the practitioner who accepts them.

These are the offers of `dosing.offers`, for many clients at once. A change counts from the next day on, and earlier days
keep their classes.
"""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from webapp.dosing.plan import Plan
from webapp.dosing.responses import KNOWN_AXIS, RESPONSES
from webapp.forecast import figures
from webapp.forecast.arms import Ratings
from webapp.forecast.diary import OVER_ALL, UNKNOWN, classes
from webapp.forecast.responders import Flags
from webapp.forecast.steps import Whole

SETTLED = RESPONSES.index("settled")
ALARMS = tuple(RESPONSES.index(response) for response in ("flared", "flared_idle", "sharp"))
MORNINGS = int(figures.OFFER_MORNINGS.value)
LOOK_DAYS = int(figures.OFFER_LOOK_DAYS.value)
LONG_AGO = 10_000


class SettingsInForce:
    """The usual morning pain and the settled ceiling in force for each client; classes days by them."""

    def __init__(self, plan: Plan, clients: int) -> None:
        usual, ceiling = plan.client.usual, plan.tuning.settled_during
        self._usuals = range(usual, max(usual, int(figures.OFFER_MOST_USUAL.value)) + 1)
        self._ceilings = range(ceiling, max(ceiling, int(figures.OFFER_MOST_CEILING.value)) + 1)
        self._plan = plan
        self._usual: Whole = np.zeros(clients, dtype=np.int64)
        self._ceiling: Whole = np.zeros(clients, dtype=np.int64)
        self._classes: Whole = np.stack([self._by_ceiling(each) for each in self._usuals])

    def _by_ceiling(self, usual: int) -> Whole:
        tuning = self._plan.tuning
        return np.stack([classes(usual, replace(tuning, settled_during=ceiling)) for ceiling in self._ceilings])

    @property
    def usual(self) -> Whole:
        """The usual morning pain in force, 0 to 5."""
        return self._usual + self._usuals[0]

    @property
    def ceiling(self) -> Whole:
        """The most discomfort in a session that counts as settled."""
        return self._ceiling + self._ceilings[0]

    def _raised(self, usual_up: Whole | int, ceiling_up: Whole | int) -> tuple[Whole, Whole]:
        usual = np.minimum(self._usual + usual_up, len(self._usuals) - 1)
        return usual, np.minimum(self._ceiling + ceiling_up, len(self._ceilings) - 1)

    def classed(self, cell: Whole, usual_up: Whole | int = 0, ceiling_up: Whole | int = 0) -> Whole:
        """Return the response of each client's cell under the settings in force, raised by some points.

        Cells have the shape (clients,) or (days, clients). No setting is raised above the highest value that is offered.
        """
        usual, ceiling = self._raised(usual_up, ceiling_up)
        classed: Whole = self._classes[usual, ceiling, cell]
        return classed

    def raise_by(self, usual_up: Whole, ceiling_up: Whole) -> None:
        """Raise both settings of each client by some points, at most to the highest value that is offered."""
        self._usual, self._ceiling = self._raised(usual_up, ceiling_up)


class Signs(NamedTuple):
    """The conditions of an offer; each field has an entry for each client.

    Attributes:
        days_without_climb: Days since the last climb, or since the start.
        quiet_days: Days since the last flare or warning sign.
        days_since_change: Days since an offer was last accepted.
        is_no_worse: Whether the last mornings are no worse than the mornings before (see `are_no_worse`).
        is_below_goal: Whether a rung is left to climb, or a step of range to give back.
        is_training: Whether the arm neither rests nor is held.
    """

    days_without_climb: Whole
    quiet_days: Whole
    days_since_change: Whole
    is_no_worse: Flags
    is_below_goal: Flags
    is_training: Flags


def may_offer(signs: Signs) -> Flags:
    """Say for which clients the review may offer another usual pain or ceiling."""
    is_stuck = signs.is_below_goal & (signs.days_without_climb >= figures.OFFER_DAYS.value)
    is_quiet = signs.is_training & (signs.quiet_days >= figures.OFFER_QUIET_DAYS.value)
    is_open = signs.days_since_change >= figures.OFFER_PAUSE_DAYS.value
    return is_stuck & is_quiet & is_open & signs.is_no_worse


def are_no_worse(mornings: Ratings) -> Flags:
    """Say for which clients the last five known mornings are no worse than the five known mornings before them.

    Args:
        mornings: Ten or more of the last mornings, of shape (days, clients); some may be unknown.

    Returns:
        False for clients with fewer than ten known mornings.
    """
    known_last = np.argsort(mornings != UNKNOWN, axis=0, kind="stable")
    in_order = np.take_along_axis(mornings, known_last, axis=0)[-2 * MORNINGS :]
    is_no_worse: Flags = in_order[MORNINGS:].sum(axis=0) <= in_order[:MORNINGS].sum(axis=0)
    is_known: Flags = in_order[0] != UNKNOWN
    return is_no_worse & is_known


def middle_known(ratings: Ratings) -> Ratings:
    """Return the low median of each client's known ratings, of shape (days, clients); unknown where none is known."""
    in_order = np.sort(np.where(ratings == UNKNOWN, OVER_ALL, ratings), axis=0)
    count = (ratings != UNKNOWN).sum(axis=0)
    middle = np.take_along_axis(in_order, np.maximum(count - 1, 0)[None] // 2, axis=0)[0]
    return np.where(count > 0, middle, UNKNOWN)


class Review:
    """Keeps the numbers that the review reads, and updates them day by day."""

    def __init__(self, clients: int) -> None:
        self._cells: Whole = np.full((LOOK_DAYS, clients), UNKNOWN)
        self._days_without_climb: Whole = np.zeros(clients, dtype=np.int64)
        self._quiet_days: Whole = np.full(clients, LONG_AGO)
        self._days_since_change: Whole = np.full(clients, LONG_AGO)

    def write(self, cell: Whole, response: Whole, has_climbed: Flags) -> None:
        """Add a closed day."""
        self._cells = np.concatenate([self._cells[1:], cell[None]])
        self._days_without_climb = np.where(has_climbed, 0, self._days_without_climb + 1)
        self._quiet_days = np.where(np.isin(response, ALARMS), 0, self._quiet_days + 1)
        self._days_since_change = self._days_since_change + 1

    def _mornings(self) -> Ratings:
        """Return the mornings reported on the last days, of shape (days, clients)."""
        mornings = self._cells // len(KNOWN_AXIS) % len(KNOWN_AXIS) - 1
        return np.where(self._cells == UNKNOWN, UNKNOWN, mornings)

    def _settled(self, settings: SettingsInForce, usual_up: Whole | int = 0, ceiling_up: int = 0) -> Whole:
        """Return how many of the last days would be settled if the settings in force were some points higher."""
        is_settled = settings.classed(np.maximum(self._cells, 0), usual_up, ceiling_up) == SETTLED
        count: Whole = (is_settled & (self._cells != UNKNOWN)).sum(axis=0)
        return count

    def _usual_up(self, settings: SettingsInForce) -> Whole:
        """Return by how many points the offered usual pain is higher: up to the median morning, at least one point."""
        over = middle_known(self._mornings()) - settings.usual
        points: Whole = np.clip(over, 1, int(figures.OFFER_MOST_POINTS.value))
        return points

    def take_up(self, settings: SettingsInForce, is_below_goal: Flags, is_training: Flags) -> Flags:
        """Accept every offer of the review, and return for which clients there was one.

        The review offers a higher usual pain or a ceiling one point higher, whichever would have settled more of the
        last fourteen days. Where both would settle equally many, it offers the ceiling.
        """
        counts = self._days_without_climb, self._quiet_days, self._days_since_change
        may = may_offer(Signs(*counts, are_no_worse(self._mornings()), is_below_goal, is_training))
        usual_up = self._usual_up(settings)
        now, by_usual, by_ceiling = (self._settled(settings, *up) for up in ((0, 0), (usual_up, 0), (0, 1)))
        takes_usual = may & (by_usual > np.maximum(now, by_ceiling))
        takes_ceiling = may & ~takes_usual & (by_ceiling > now)
        settings.raise_by(usual_up * takes_usual, takes_ceiling.astype(np.int64))
        self._days_since_change = np.where(takes_usual | takes_ceiling, 0, self._days_since_change)
        return takes_usual | takes_ceiling

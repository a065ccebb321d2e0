"""Every constant of the virtual clients, with its unit and its source key. Knows no array and no day.

The form was published for sport performance and has never been shown to hold for soreness or sore
tendons. Whatever is marked `own-choice` is invented.
"""

from dataclasses import dataclass

from webapp.dosing.figures import Figure

# Fitness and fatigue: what a day's work leaves behind fades with these times.
FITNESS_DAYS = Figure(42, "days", "fitness-fatigue-2022")
FATIGUE_DAYS = Figure(7, "days", "fitness-fatigue-2022")
FITNESS_WEIGHT = Figure(1, "for each unit of work", "banister-1990")
FATIGUE_WEIGHT = Figure(2, "for each unit of work", "banister-1990")

# The same form with its first, generic times: only for check values.
GENERIC_FITNESS_DAYS = Figure(45, "days", "banister-1990")
GENERIC_FATIGUE_DAYS = Figure(15, "days", "banister-1990")

SORENESS_PEAK_DAYS = Figure(2, "days after the work", "doms-2003")
MORNING_AFTER_DAYS = Figure(1, "days after the work", "own-choice")
SYMPTOM_HALF_LIFE_DAYS = Figure(90, "days", "ikonen-2022")
RATING_NOISE = Figure(0.602, "points, standard deviation", "nprs-elbow-2025")
DAILY_NOISE_SHARE = Figure(0.25, "of that noise's variance that changes from day to day", "own-choice")

LEAST_TOLERANCE = Figure(0.4, "of the tolerance at first", "own-choice")
SPREAD = Figure(0.35, "logarithmic standard deviation within a kind", "own-choice")
TIME_SPREAD = Figure(0.15, "logarithmic standard deviation of the two times", "own-choice")
MISSED_SHARE = Figure(0.05, "of days with no session although one was asked", "own-choice")
UNREPORTED_SHARE = Figure(0.05, "of mornings without a report", "own-choice")
BUSY_SHARE = Figure(0.05, "of days on which the arm works beside the routine", "own-choice")
BUSY_LOAD = Figure(0.2, "of the tolerance at first, mean on such a day", "own-choice")

# What people do where the rules leave it to them.
RELEASE_DAYS = Figure(3, "days from a hold to the practitioner's release", "own-choice")
EASY_RATING = Figure(1, "of 10: most that still counts as hardly any pain", "own-choice")
EASY_DAYS = Figure(3, "easy days in a row before a paper plan asks more", "own-choice")
HEED_RISE = Figure(2, "points over the morning before, at which a careful reader goes back a step", "own-choice")

# Populations that do not do, tell or mend as the rules would like. All of them are invented.
LATE_PEAK_DAYS = Figure(3, "days after the work", "own-choice")
SKIPPED_SHARE = Figure(0.30, "of days with no session although one was asked", "own-choice")
HALF_DONE = Figure(0.5, "of each session's work", "own-choice")
UNDER_REPORT = Figure(-3, "points added to every rating", "own-choice")
OVER_REPORT = Figure(2, "points added to every rating", "own-choice")
SESSION_ACHE = Figure(4, "of 10: least rating of every session", "own-choice")
HIGH_USUAL = Figure(5, "of 10: a usual morning pain that never falls", "own-choice")
TRUE_USUAL = Figure(3, "of 10: the true usual morning pain where less was agreed", "own-choice")
TOO_LOW = Figure(1, "points by which the agreed usual morning pain is too low", "own-choice")
FAR_TOO_LOW = Figure(2, "points by which the agreed usual morning pain is too low", "own-choice")

# Which virtual clients are like one real client.
LIKENESS_POINTS = Figure(
    1, "points by which a rating may lie off before it tells against a virtual client", "own-choice"
)
LIKE_AT_LEAST = Figure(60, "virtual clients that must count, however long the past", "own-choice")
USUAL_OFF = Figure(2, "points by which the true usual morning pain may be over the agreed one", "own-choice")

# When the review offers another usual pain or another ceiling, and how high.
OFFER_DAYS = Figure(10, "days without a climb, below the top", "own-choice")
OFFER_MORNINGS = Figure(5, "known mornings, no worse together than as many before", "own-choice")
OFFER_QUIET_DAYS = Figure(10, "days without a flare or a warning sign", "own-choice")
OFFER_LOOK_DAYS = Figure(14, "last days that are classed again under the value offered", "own-choice")
OFFER_PAUSE_DAYS = Figure(28, "days between two accepted offers", "own-choice")
OFFER_MOST_USUAL = Figure(3, "of 10", "own-choice")
OFFER_MOST_POINTS = Figure(3, "points of usual pain in one offer", "own-choice")
OFFER_MOST_CEILING = Figure(4, "of 10", "silbernagel-2007")
SEEDS = Figure(3, "seeds, one after the other", "own-choice")
STANDSTILL_DAYS = Figure(28, "days without a climb, below the goal", "own-choice")

# What the populations should show: limits beside the gentlest plan on paper, and for the practitioner who acts.
ORDINARY_FLARES = Figure(0.1, "of the paper plan's flare days, the fragile and the middling", "own-choice")
ROBUST_FLARES = Figure(0.2, "flare days a client, the robust", "own-choice")
FRAGILE_UNDER_REPORTERS = Figure(0.5, "of the paper plan's flare days", "own-choice")
UNDER_REPORTERS = Figure(1.5, "times the paper plan's flare days", "own-choice")
UNDER_REPORTERS_AT_LEAST = Figure(0.5, "flare days a client, where that is more", "own-choice")
STILL_TOO_LOW = Figure(0.4, "of those whose usual morning pain was agreed too low", "own-choice")
STILL_ACHING = Figure(0.1, "of those who ache in every session", "own-choice")


@dataclass(frozen=True)
class Kind:
    """One kind of responder, in medians; all of them invented.

    Attributes:
        id: Stable word.
        tolerance_lifts: Palm-down lifts of one pound a day that leave no soreness at first.
        gain: Joules of daily tolerance that each joule of daily work adds in the long run.
        soreness: Points at its peak after one day at twice the tolerance.
        ache: Points felt in a session that takes the whole tolerance.
    """

    id: str
    tolerance_lifts: Figure
    gain: Figure
    soreness: Figure
    ache: Figure


def _invented(id_: str, lifts: float, gain: float, soreness: float, ache: float) -> Kind:
    return Kind(
        id_,
        Figure(lifts, "lifts of one pound a day", "own-choice"),
        Figure(gain, "of the work", "own-choice"),
        Figure(soreness, "points", "own-choice"),
        Figure(ache, "points", "own-choice"),
    )


KINDS = (
    _invented("fragile", 10, 1.5, 1.4, 0.7),
    _invented("middling", 14, 1.7, 1.2, 0.6),
    _invented("robust", 24, 1.9, 1.0, 0.5),
)
"""Set so that the gentlest plan on paper comes out in the order of size that an earlier trial of it gave: some 20 flare
days for the fragile, 2 to 5 for the middling, at most 0.1 for the robust. Our own rules had no part in it."""


def every_figure() -> dict[str, Figure]:
    """Return all constants of the model by name, those of the kinds included."""
    named = {name.lower(): value for name, value in globals().items() if isinstance(value, Figure)}
    for kind in KINDS:
        for part in ("tolerance_lifts", "gain", "soreness", "ache"):
            named[f"{kind.id}.{part}"] = getattr(kind, part)
    return named

"""Numbers with a meaning outside this project, each with its unit and its source key.

The keys are entries of content/sources.toml. This module imports nothing of the project.
"""

from typing import NamedTuple


class Figure(NamedTuple):
    """One published or agreed number.

    Attributes:
        value: The number, in `unit`.
        unit: The unit, in plain letters.
        source: A key of content/sources.toml.
    """

    value: float
    unit: str
    source: str


STANDARD_GRAVITY = Figure(9.80665, "m/s2", "nist-sp811")
POUND = Figure(0.45359237, "kg", "nist-sp811")

HAND_MASS_FRACTION = {
    "female": Figure(0.0056, "of body mass", "deleva-1996"),
    "male": Figure(0.0061, "of body mass", "deleva-1996"),
}
HAND_CENTRE_FRACTION = {
    "female": Figure(0.3427, "of hand length from the wrist", "deleva-1996"),
    "male": Figure(0.3624, "of hand length from the wrist", "deleva-1996"),
}
HAND_LENGTH_FRACTION = Figure(0.108, "of stature", "drillis-contini-1966")
GRIP_FRACTION = Figure(0.40, "of hand length from the wrist", "pheasant-grip")

# The arc of a hand that grips a weight, as (bottom, top) degrees from level.
GRIPPED_FLEXION = Figure(35.0, "degrees", "gripped-flexion-2015")
GRIPPED_EXTENSION = Figure(55.0, "degrees", "gripped-flexion-2015")
RADIAL_DEVIATION = Figure(20.0, "degrees", "aaos-motion")
ULNAR_DEVIATION = Figure(30.0, "degrees", "aaos-motion")

# Mean isometric maximum of ten men; women by the ratio of women's to men's strength.
MAXIMUM_MOMENT = {
    "flexion": Figure(12.2, "N m", "delp-1996"),
    "extension": Figure(7.1, "N m", "delp-1996"),
    "radial": Figure(11.0, "N m", "delp-1996"),
    "ulnar": Figure(9.5, "N m", "delp-1996"),
}
FEMALE_STRENGTH_RATIO = Figure(0.641, "of men's", "strength-women")

WARN_SHARE_OF_MAXIMUM = Figure(0.25, "of the estimated maximum", "own-choice")

HEAVIER_RISE = Figure(0.10, "of the day's work", "acsm-2009")
SIDE_SHARE = Figure(2 / 3, "of the reps", "common-practice")
SIDE_REPS_AT_LEAST = Figure(5, "reps", "own-choice")
FIRST_WEEK_DAYS = Figure(7, "days", "common-practice")
FIRST_DAYS = Figure(3, "days", "doms-2003")
FIRST_DAYS_WORK = Figure(1.0, "times the single session", "own-choice")
FIRST_WEEK_WORK = Figure(1.34, "times the single session", "own-choice")
FIRST_CLIMBED_DAY = Figure(5, "day of the first week", "own-choice")
SET_GROWTH = Figure(0.5, "of a set, from one day to the next", "doms-2003")
SESSIONS_APART = Figure(4, "hours", "common-practice")
LATEST_START = Figure(21, "o'clock", "own-choice")
LATE_MORNINGS = Figure(3, "days", "own-choice")
AWAY_ASKED = Figure(3, "days", "own-choice")
AWAY_LONG = Figure(7, "days", "own-choice")
ACTIVITY_WEEKS = {
    "first_time": Figure(0, "weeks from the start", "own-choice"),
    "second_time": Figure(2, "weeks from the start", "own-choice"),
    "third_time": Figure(4, "weeks from the start", "own-choice"),
    "fourth_time": Figure(8, "weeks from the start", "own-choice"),
    "fifth_time": Figure(12, "weeks from the start", "own-choice"),
}
SORE_ASKED = Figure(3, "days", "doms-2003")

ENOUGH_DONE = Figure(0.8, "of the asked work, in every direction", "own-choice")
OWED_DAYS = Figure(7, "settled days", "own-choice")
BE_SEEN_REST_DAYS = Figure(3, "days", "own-choice")
HOLD_AFTER_REST_DAYS = Figure(7, "days", "own-choice")
NO_RISE_DAYS = Figure(7, "days", "own-choice")
USUAL_BY_HAND = Figure(4, "of 10", "own-choice")

RANGE_BY_EASE = (
    Figure(1.0, "of the range", "common-practice"),
    Figure(0.75, "of the range", "common-practice"),
    Figure(0.5, "of the range", "common-practice"),
)
SHORT_SHARE = Figure(0.5, "of the reps", "common-practice")
SHORT_REPS_AT_LEAST = Figure(5, "reps", "own-choice")
BEFORE_SPORT_SHARE = Figure(1 / 3, "of the reps, with no weight", "common-practice")
LONGER_PAUSES = Figure(10, "times the routine's own", "wcag-2023")
SHORT_HOLD = Figure(20, "seconds", "own-choice")
HOLD_STEP = Figure(5, "seconds", "common-practice")

SHARP_RATING = Figure(8, "of 10", "boonstra-2016")
FLARED_RATING = Figure(6, "of 10", "nhs-inform-elbow")
FLARED_RISE = Figure(2, "points", "nprs-elbow-2025")
FLARED_FROM = Figure(3, "of 10", "silbernagel-2007")
FLARED_OVER_USUAL = Figure(3, "points over the usual morning", "nprs-elbow-2025")
FLARED_OVER_USUAL_FROM = Figure(4, "of 10", "silbernagel-2007")
SORE_OVER_USUAL = Figure(1, "point over the usual morning", "nprs-elbow-2025")
SETTLED_MORNING = Figure(2, "of 10", "silbernagel-2007")

RETURN_STEP_DAYS = Figure(7, "days", "own-choice")
RETURN_DAYS_A_WEEK = Figure(3, "days of seven", "own-choice")
RETURN_CALM_MORNINGS = Figure(3, "mornings in a row", "own-choice")
RETURN_REST_DAYS = Figure(5, "days", "own-choice")
RETURN_FLARE_DAYS = Figure(28, "days", "own-choice")
RETURN_TRIES = Figure(3, "goes without a step passed", "own-choice")
RETURN_AWAY_ONE = Figure(14, "days without sport", "own-choice")
RETURN_AWAY_HALF = Figure(28, "days without sport", "own-choice")
RETURN_AWAY_GATE = Figure(42, "days without sport", "own-choice")
GATE_SHARP_DAYS = Figure(28, "days", "own-choice")
GATE_FLARE_DAYS = Figure(14, "days", "own-choice")
GATE_MORNINGS = Figure(7, "mornings", "own-choice")
GATE_SESSION_RATING = Figure(3, "of 10", "own-choice")
GATE_OWN_DAYS = Figure(3, "days in a row", "own-choice")
GATE_OWN_RATING = Figure(2, "of 10", "own-choice")
GATE_LOAD = Figure(1, "kg", "own-choice")
GATE_REPS = Figure(15, "reps", "own-choice")
LEVERS_APART = Figure(3, "days", "magnusson-2010")

IMPORTANT_POINTS = Figure(2, "points", "farrar-2001")
IMPORTANT_SHARE = Figure(0.30, "of where it began", "farrar-2001")

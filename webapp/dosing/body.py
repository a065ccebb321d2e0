"""How much a wrist lifts: lever, peak moment and work of one rep.

The forearm is level and supported, and the movement is slow. Hand and weight turn about the
wrist. The work of a rep is the work done against gravity on the way up.
"""

from math import radians, sin

from webapp.dosing import figures
from webapp.dosing.settings import Body

ARC_DEGREES = {
    "extension": (figures.GRIPPED_FLEXION.value, figures.GRIPPED_EXTENSION.value),
    "flexion": (figures.GRIPPED_EXTENSION.value, figures.GRIPPED_FLEXION.value),
    "radial": (figures.ULNAR_DEVIATION.value, figures.RADIAL_DEVIATION.value),
    "ulnar": (figures.RADIAL_DEVIATION.value, figures.ULNAR_DEVIATION.value),
}


def _by_sex(table: dict[str, figures.Figure], sex: str | None) -> float:
    if sex is None:
        return sum(entry.value for entry in table.values()) / len(table)
    return table[sex].value


def lever_kg_m(body: Body, load_kg: float) -> float:
    """Return mass times distance from the wrist, summed over hand and weight.

    Args:
        body: Mass in kg, height in m, sex or None for the mean.
        load_kg: The weight in the hand, kg.

    Returns:
        Kilogram metres. Source keys: deleva-1996, drillis-contini-1966, pheasant-grip.
    """
    hand_length = figures.HAND_LENGTH_FRACTION.value * body.height_m
    hand_mass = _by_sex(figures.HAND_MASS_FRACTION, body.sex) * body.mass_kg
    hand_centre = _by_sex(figures.HAND_CENTRE_FRACTION, body.sex) * hand_length
    return hand_mass * hand_centre + load_kg * figures.GRIP_FRACTION.value * hand_length


def peak_moment_nm(body: Body, load_kg: float) -> float:
    """Return the moment about the wrist with the hand level, in newton metres."""
    return lever_kg_m(body, load_kg) * figures.STANDARD_GRAVITY.value


def arc_degrees(direction: str, range_fraction: float = 1.0) -> tuple[float, float]:
    """Return the arc of one direction as (degrees below level, degrees above level)."""
    below, above = ARC_DEGREES[direction]
    return below * range_fraction, above * range_fraction


def work_of_rep_j(body: Body, load_kg: float, below: float, above: float) -> float:
    """Return the work lifted against gravity in one rep.

    Args:
        body: Whose hand.
        load_kg: The weight in it, kg.
        below: Degrees below level where the rep starts.
        above: Degrees above level where it turns.

    Returns:
        Joules: lever times gravity times the sum of the sines.
    """
    return peak_moment_nm(body, load_kg) * (sin(radians(below)) + sin(radians(above)))


def maximum_moment_nm(body: Body, direction: str) -> float:
    """Estimate the greatest moment a wrist can make, in newton metres (crude: see delp-1996)."""
    most = figures.MAXIMUM_MOMENT[direction].value
    ratio = figures.FEMALE_STRENGTH_RATIO.value
    return most * {"male": 1.0, "female": ratio, None: (1 + ratio) / 2}[body.sex]


def share_of_maximum(body: Body, load_kg: float) -> float:
    """Return the peak moment as a share of the weakest direction's estimated maximum."""
    weakest = min(maximum_moment_nm(body, direction) for direction in figures.MAXIMUM_MOMENT)
    return peak_moment_nm(body, load_kg) / weakest

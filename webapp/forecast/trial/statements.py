"""Limits that the populations should keep, checked for each seed."""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from webapp.dosing.figures import Figure
from webapp.forecast import figures
from webapp.forecast.populations import ACHING, FAR_TOO_LOW, ORDINARY, TOO_LOW, UNDER_REPORTERS
from webapp.forecast.trial.rows import Row

FRAGILE, MIDDLING, ROBUST = (kind.id for kind in figures.KINDS)


class Statement(NamedTuple):
    """One limit.

    Attributes:
        population, kinds: The clients that it is about.
        number: The name of the number in a row.
        limit: Returns, for a row, the most that the number may be.
    """

    population: str
    kinds: tuple[str, ...]
    number: str
    limit: Callable[[Row], float]


def _share_of_paper(share: Figure) -> Callable[[Row], float]:
    return lambda row: share.value * float(row["paper.flare_days"])


def _under_reporters(row: Row) -> float:
    most = figures.UNDER_REPORTERS.value * float(row["paper.flare_days"])
    return max(most, figures.UNDER_REPORTERS_AT_LEAST.value)


def _fixed(limit: Figure) -> Callable[[Row], float]:
    return lambda _: limit.value


OURS, STILL = "ours.flare_days", "acting.standing_still"
EVERY = (FRAGILE, MIDDLING, ROBUST)
STATEMENTS = (
    Statement(ORDINARY.id, (FRAGILE, MIDDLING), OURS, _share_of_paper(figures.ORDINARY_FLARES)),
    Statement(ORDINARY.id, (ROBUST,), OURS, _fixed(figures.ROBUST_FLARES)),
    Statement(UNDER_REPORTERS.id, (FRAGILE,), OURS, _share_of_paper(figures.FRAGILE_UNDER_REPORTERS)),
    Statement(UNDER_REPORTERS.id, (MIDDLING, ROBUST), OURS, _under_reporters),
    Statement(TOO_LOW.id, EVERY, STILL, _fixed(figures.STILL_TOO_LOW)),
    Statement(FAR_TOO_LOW.id, EVERY, STILL, _fixed(figures.STILL_TOO_LOW)),
    Statement(ACHING.id, EVERY, STILL, _fixed(figures.STILL_ACHING)),
)


def _checked(statement: Statement, kind: str, apart: Sequence[Sequence[Row]]) -> dict[str, Any]:
    whom = (statement.population, kind)
    rows = [next(row for row in rows if (row["population"], row["kind"]) == whom) for rows in apart]
    by_seed = [{"figure": row[statement.number], "limit": round(statement.limit(row), 4)} for row in rows]
    holds = all(each["figure"] <= each["limit"] for each in by_seed)
    return {
        "population": statement.population,
        "kind": kind,
        "number": statement.number,
        "by_seed": by_seed,
        "holds": holds,
    }


def checked(apart: Sequence[Sequence[Row]]) -> list[dict[str, Any]]:
    """Compare every figure with its limit.

    Args:
        apart: The rows of each seed (see `rows.try_all`).

    Returns:
        One dict for each statement and kind: `population`, `kind`, `number`, `by_seed` (`figure` and `limit` of each
        seed) and `holds` (with every seed).
    """
    return [_checked(statement, kind, apart) for statement in STATEMENTS for kind in statement.kinds]

"""The plans of the golden courses, and the tables and bundles that a phone would get for them."""

from functools import cache
from typing import Any

from tests.vectors import write as golden
from webapp.dosing.almanac import Almanac, build
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Routine
from webapp.dosing.state import State
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import Prescribed, make_bundle
from webapp.words import words_for


@cache
def plan_of(name: str) -> Plan:
    """The plan of a golden course."""
    tuning, client = golden.PLANS[name]
    return make_plan(Routine("Vectors", "wrist", tuning), client)


@cache
def almanac_of(name: str) -> Almanac:
    """The table that the bundle of a golden plan carries."""
    return build(plan_of(name))


@cache
def bundle_of(name: str) -> dict[str, Any]:
    """The bundle of a golden plan, in English."""
    return make_bundle(Prescribed(plan_of(name), 1), words_for("en"), the_shelf())


def wired(name: str, state: State) -> list[int]:
    """Return a state as on the wire: its row, the days of its gap, and the rung on which the gap began."""
    return list(almanac_of(name).position(state))

"""Stored routine versions as the core's plans, and where each state stands in its almanac.

Both take a while to make, so they are kept in memory.
"""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.records.routines import RoutineVersion
from webapp.sync import bundle

PLANS_KEPT = 512
ROWS_KEPT = 128


def plan_of(version: RoutineVersion) -> Plan:
    """Fit a stored version to its client.

    Raises:
        NotAcceptedError: The version as stored has a fault: this program's limits have changed since.
    """
    return _plan(_text(version.routine), _text(version.settings))


@lru_cache(PLANS_KEPT)
def _plan(routine: str, settings: str) -> Plan:
    return bundle.prescribed(json.loads(routine), json.loads(settings), version=1).plan


@lru_cache(ROWS_KEPT)
def rows_of(plan: Plan, entries: tuple[State, ...]) -> Mapping[State, int]:
    """Return the row of every state, without its gap, in the almanac of a bundle made with these entries."""
    return bundle.almanac_of(plan, entries).rows


def _text(mapping: Mapping[str, Any]) -> str:
    return json.dumps(mapping, sort_keys=True)

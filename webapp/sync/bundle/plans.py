"""Turns stored routine versions into the core's plans; plans are slow to make, so they are cached in memory."""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from webapp.dosing.plan import Plan
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle import bundle

PLANS_KEPT = 512


def plan_of(version: RoutineVersion) -> Plan:
    """Fit a stored version to its client.

    Raises:
        NotAcceptedError: The stored version has a fault, because this program's limits have changed since the push.
    """
    return _plan(_text(version.routine), _text(version.settings))


@lru_cache(PLANS_KEPT)
def _plan(routine: str, settings: str) -> Plan:
    return bundle.prescribed(json.loads(routine), json.loads(settings), version=1).plan


def _text(mapping: Mapping[str, Any]) -> str:
    return json.dumps(mapping, sort_keys=True)

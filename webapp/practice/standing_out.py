"""What makes a client stand out in the caseload and on the case page alike: a hold, rest, silence."""

from collections.abc import Sequence
from typing import Protocol

SILENT_FROM_DAYS = 3


class _OfOneArm(Protocol):
    @property
    def mode(self) -> str: ...


class StandsOut:
    """A client with arms and silent days.

    Attributes:
        standings: One for each arm in training; its mode is training, resting or held.
        silent_days: Days in a row without a session, up to yesterday.
    """

    standings: Sequence[_OfOneArm]
    silent_days: int

    @property
    def is_silent(self) -> bool:
        """Say whether there was no session for three days or more."""
        return self.silent_days >= SILENT_FROM_DAYS

    @property
    def stands_out(self) -> bool:
        """Say whether there is anything but ordinary training."""
        return self.is_silent or any(stand.mode != "training" for stand in self.standings)

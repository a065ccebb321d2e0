"""The state of one arm: everything that its next doses depend on."""

from typing import NamedTuple

MODES = ("training", "resting", "held")
MOST_EASE = 2
MOST_PACE = 2
MOST_GAP_DAYS = 28
HALF_WAY_GAP_DAYS = 14
WHOLE, SPREAD, FULLER, TOGETHER = 0, 1, 2, 3


class State(NamedTuple):
    """One arm at the start of a day. A named tuple, because an almanac builds and looks up tens of thousands of states.

    Attributes:
        rung: The step of the ladder, 1 at the bottom.
        ease: 0 none, 1 three-quarter range, 2 half range.
        settled_streak: Settled days in a row since the last change. Below 0 after a release: the arm owes settled
            days before it counts towards a change (see `plan.streak_after_release`).
        tender_days: Tender or sore days in a row.
        gap_days: Days in a row without a session, up to 28.
        gap_rung: The rung on which the gap began; 0 without a gap, and 0 from the fourteenth day of a gap on.
        first_week_day: 1 to 7 in the first week, 0 once it is over.
        first_week_stage: 0 for the ladder's whole session; 1 for the first short sessions; 2 for the fuller short
            sessions; 3 and up for one session whose sets are still growing to the whole. A hold keeps the stage.
        pace: Clean climbs in a row: 0, 1, or 2 for two and more.
        rest_days: 1 on the first day of rest; 0 unless resting.
        mode: One of `MODES`.
        is_unsettled: Whether no settled day has come since the arm was last eased or tender. True only where ease and
            tender days are 0; with either of them the arm is unsettled anyway, and the field stays False.
    """

    rung: int
    ease: int = 0
    settled_streak: int = 0
    tender_days: int = 0
    gap_days: int = 0
    gap_rung: int = 0
    first_week_day: int = 0
    first_week_stage: int = 0
    pace: int = 0
    rest_days: int = 0
    mode: str = "training"
    is_unsettled: bool = False

    @property
    def has_short_holds(self) -> bool:
        """Whether stretches are held short: the arm is eased or tender, or was so and has had no settled day since."""
        return self.ease > 0 or self.tender_days > 0 or self.is_unsettled

    def without_tender_days(self, ease: int) -> "State":
        """Return the state at a step of ease with no tender days; short stretches stay short until a settled day."""
        return self._replace(ease=ease, tender_days=0, is_unsettled=self.stays_unsettled(ease))

    def stays_unsettled(self, ease: int) -> bool:
        """Return `is_unsettled` for this state after a change to a step of ease and to no tender days."""
        return self.has_short_holds and not ease and self.mode != "held"

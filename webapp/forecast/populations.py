"""Populations of virtual clients: what they do, what they report, how they recover. All of them are invented.

Every population comes in all kinds of `figures.KINDS`. Knows no array and no day.
"""

from dataclasses import dataclass, replace

from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import BOUNDS
from webapp.forecast import figures


@dataclass(frozen=True)
class Population:
    """What the clients of one population have in common; the defaults are those of ordinary clients.

    Attributes:
        id: Stable word; the key of its name in words/.
        missed_share: Share of days without a session although one was asked.
        done_share: Share of each session's work that is done.
        report_shift: Points added to every rating before it is reported; a reported rating stays from 0 to 10.
        rates_sessions, rates_mornings: Whether the client rates sessions, and mornings, at all.
        least_session: The lowest rating of any session.
        usual_over: Points by which the true usual morning pain is higher than the agreed one.
        agreed_usual: The agreed usual morning pain, where it is not the client's own.
        usual_stays: True where the usual morning pain never falls.
        adapts: False where work adds no tolerance.
        peak_days: Days after the work on which soreness is highest.
    """

    id: str
    missed_share: float = figures.MISSED_SHARE.value
    done_share: float = 1.0
    report_shift: int = 0
    rates_sessions: bool = True
    rates_mornings: bool = True
    least_session: int = 0
    usual_over: int = 0
    agreed_usual: int | None = None
    usual_stays: bool = False
    adapts: bool = True
    peak_days: float = figures.SORENESS_PEAK_DAYS.value

    def true_usual(self, agreed: int) -> int:
        """Return the true usual morning pain, 0 to 5, from the agreed one."""
        return min(agreed + self.usual_over, int(BOUNDS["usual"].high))

    def plan_for(self, plan: Plan) -> Plan:
        """Return the plan that this population follows: with its own agreed usual pain, where it has one."""
        if self.agreed_usual is None:
            return plan
        return make_plan(plan.routine, replace(plan.client, usual=self.agreed_usual, clinician_seen=True))


ORDINARY = Population("ordinary")
UNDER_REPORTERS = Population("under-reporters", report_shift=int(figures.UNDER_REPORT.value))
TOO_LOW, FAR_TOO_LOW = (
    Population(name, agreed_usual=int(figures.TRUE_USUAL.value) - points, usual_over=points)
    for name, points in (("too-low", int(figures.TOO_LOW.value)), ("far-too-low", int(figures.FAR_TOO_LOW.value)))
)
ACHING = Population("aching", least_session=int(figures.SESSION_ACHE.value))
POPULATIONS = (
    ORDINARY,
    Population("late-peak", peak_days=figures.LATE_PEAK_DAYS.value),
    Population("skipping", missed_share=figures.SKIPPED_SHARE.value),
    Population("rates-nothing", rates_sessions=False, rates_mornings=False),
    Population("rates-mornings", rates_sessions=False),
    Population("half-done", done_share=figures.HALF_DONE.value),
    UNDER_REPORTERS,
    Population("over-reporters", report_shift=int(figures.OVER_REPORT.value)),
    ACHING,
    TOO_LOW,
    FAR_TOO_LOW,
    Population("high-usual", agreed_usual=int(figures.HIGH_USUAL.value), usual_stays=True),
    Population("never-adapts", adapts=False),
)

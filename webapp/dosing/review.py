"""The review: what a practitioner should know about a course. It never changes a dose.

Each finding has an id (the key of its words), its first day, and the days and numbers that show it.
"""

from collections.abc import Iterator, Sequence

from webapp.dosing import figures
from webapp.dosing.findings import alarms, answers, numbers, rungs, standstill
from webapp.dosing.findings.arm_course import ArmCourse, Finding, Watch

STANDSTILL_DAYS = int(numbers.STANDSTILL_DAYS.value)

FINDINGS: tuple[Watch, ...] = (
    Watch("sharp", "sharp pain or a warning sign, and the hold is on", alarms.sharp, "common-practice"),
    Watch("held-after-rest", "a hold after a week of rest that did not settle", alarms.held_after_rest, "own-choice"),
    Watch("rest-long", "this day of rest or a later one", alarms.rest_long, "own-choice",
          int(figures.BE_SEEN_REST_DAYS.value)),
    Watch("flared-twice", "flared this often in seven days", alarms.flared_twice, "silbernagel-2007", 2),
    Watch("silent", "no session this many days in a row", alarms.silent, "common-practice", 7),
    Watch("no-session", "no session this many days in a row", alarms.no_session, "common-practice", 3),
    Watch("mornings-missing", "sessions without a morning report this many days in a row",
          answers.mornings_missing, "own-choice", 3),
    Watch("week-worse", "weekly median of the mornings this many points over the week before, or over it two weeks running",
          answers.week_worse, "silbernagel-2007", 2),
    Watch("sore-long", "mornings over what counts as calm for more days than this", alarms.sore_long, "doms-2003", 7),
    Watch("floor", "this many days on the lowest rung at half range", alarms.floor, "own-choice", 3),
    Watch("tender-at-half", "tender at half range for more days than this", alarms.tender_at_half, "doms-2003", 3),
    Watch("not-better-6-weeks", "mornings not better by 2 points or 30 % after this many days",
          answers.not_better("not-better-6-weeks"), "finestone-2008", 42),
    Watch("not-better-4-weeks", "mornings not better by 2 points or 30 % after this many days",
          answers.not_better("not-better-4-weeks"), "farrar-2001", 28),
    Watch("same-answers", "the same answers for this many days in which the day's work doubled",
          answers.same_answers, "own-choice", 21),
    Watch("usual-too-low", "median of two weeks over what counts as calm, steady and without a flare, from this many mornings",
          answers.usual_too_low, "own-choice", 7),
    *(
        Watch(name, f"no climb below the goal for this many days, {condition}", standstill.cause(name), "own-choice", days)
        for name, condition, days in (
            ("resting", "mostly flares and rest", STANDSTILL_DAYS),
            ("away", "mostly days without a session", STANDSTILL_DAYS),
            ("tender", "mostly tender mornings", STANDSTILL_DAYS),
            ("aching", "mostly sessions over the settled ceiling", STANDSTILL_DAYS),
            ("not-rated", "mostly days with a number missing", STANDSTILL_DAYS),
            ("done-in-part", "mostly days on which less than enough was done", STANDSTILL_DAYS),
            ("jump", "settled, and the ladder ends below a jump", STANDSTILL_DAYS),
            ("by-hand", "settled, and a usual pain with which each rung is set by hand", STANDSTILL_DAYS),
            ("plateau", "and no cause that stands out", 14),
        )
    ),
    Watch("usual-too-high", "median of two weeks a point or more under the usual, from this many mornings",
          answers.usual_too_high, "own-choice", 7),
    Watch("goal-settled", "the goal reached and this many settled days there", rungs.goal_settled, "common-practice", 7),
    Watch("peak", "peak moment over the share of the estimated maximum that is warned of", rungs.peak, "own-choice"),
    Watch("jump-ahead", "an unbridged jump within this many rungs", rungs.jump_ahead, "acsm-2009", 2),
)  # fmt: skip

URGENT = frozenset(
    {"sharp", "held-after-rest", "rest-long", "flared-twice", "silent", "sore-long", "not-better-6-weeks"}
)
"""The findings for which the practitioner must do something soon: talk to the client, or have the arm seen. Own choice."""

SAYS_IT_ALREADY = {
    "not-better-6-weeks": "not-better-4-weeks",
    "silent": "away",
    "week-worse": "usual-too-high",
    "usual-too-low": "tender",
    "floor": "tender-at-half",
    "jump": "jump-ahead",
}
"""Findings that make another finding unnecessary, and the finding that is then left out."""


def review(course: ArmCourse, watches: Sequence[Watch] = FINDINGS) -> Iterator[Finding]:
    """Yield the findings of a course, in the order of the table."""
    found = [finding for watch in watches if (finding := watch.look(course, watch.limit))]
    said = {SAYS_IT_ALREADY.get(finding.id) for finding in found}
    yield from (finding for finding in found if finding.id not in said)

"""The review of a client: the findings about each arm from the folded log, and the offer below a finding."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from webapp.dosing.course import NOTHING
from webapp.dosing.findings.arm_course import ArmCourse, Finding
from webapp.dosing.offers import CEILING, USUAL, Offer, offer_for
from webapp.dosing.plan import Plan
from webapp.dosing.review import review
from webapp.events.course_set import TRAINING, SetCourse
from webapp.sync.folding.arm_account import ArmAccount

_SEAL_LETTERS = 16
RAISED_BELOW = {CEILING: "aching", USUAL: "usual-too-low"}
LOWERED_BELOW = "usual-too-high"
STANDSTILLS = (
    "tender",
    "aching",
    "resting",
    "away",
    "not-rated",
    "done-in-part",
    "jump",
    "by-hand",
    "plateau",
    "silent",
)
SILENCE = {"silent": 7, "no-session": 3, "away": 10, "mornings-missing": 3}
"""Findings about days on which nothing came, and how many days of the course in force each needs."""
STILL_ASKED = {"maintenance": ("silent", "mornings-missing"), "training": tuple(SILENCE), "rest": (), "ended": ()}
"""Of those, the findings that are true of a course: maintenance asks for some days of a week, and a rest and an ended course for none."""


@dataclass(frozen=True)
class Noticed:
    """A finding about an arm, and the offer that the page shows below it, or None."""

    arm: str
    finding: Finding
    offer: Offer | None = None


def courses_of(accounts: Mapping[str, ArmAccount], today: date) -> dict[str, ArmCourse]:
    """Return each arm's course up to a day."""
    return {
        arm: ArmCourse(
            account.plan,
            account.days,
            account.state,
            today,
            account.facts.get(today, NOTHING),
            account.agreed_since,
            account.released_from,
        )
        for arm, account in accounts.items()
    }


def offers_of(accounts: Mapping[str, ArmAccount], today: date, newest: Plan | None) -> dict[str, Offer]:
    """Return the offers by arm.

    Args:
        accounts: The folded log.
        today: The first open day.
        newest: The plan of the newest version that was pushed. If its usual pain or ceiling differs from the version that
            the arm follows, a change is on its way already, and nothing is offered.
    """
    courses = {arm: course for arm, course in courses_of(accounts, today).items() if arm in course.plan.client.arms}
    found = {}
    for arm, course in courses.items():
        others = [other for name, other in courses.items() if name != arm]
        offer = offer_for(course, others) if newest is not None and _agrees(course.plan, newest) else None
        if offer is not None:
            found[arm] = offer
    return found


def _agrees(plan: Plan, other: Plan) -> bool:
    return (plan.client.usual, plan.tuning.settled_during) == (other.client.usual, other.tuning.settled_during)


def _number_of(findings: Sequence[Finding], offer: Offer) -> int | None:
    """Return the index of the finding that an offer is about; if there is none, the first cause of a standstill."""
    name = RAISED_BELOW[offer.lever] if offer.value > offer.now else LOWERED_BELOW
    ids = [finding.id for finding in findings]
    fitting = (number for wanted in ((name,), STANDSTILLS) for number, id_ in enumerate(ids) if id_ in wanted)
    return next(fitting, None)


def is_asked(finding: Finding, course: SetCourse, today: date) -> bool:
    """Say whether the course in force asked for what a finding misses."""
    if finding.id not in SILENCE:
        return True
    is_long = course.since is None or (today - course.since).days >= SILENCE[finding.id]
    return is_long and finding.id in STILL_ASKED[course.to]


def noticed(
    accounts: Mapping[str, ArmAccount], today: date, newest: Plan | None, course: SetCourse = TRAINING
) -> list[Noticed]:
    """Review each arm up to a day; the arguments are those of `offers_of`, and the course in force.

    Returns:
        All findings, arm by arm in the order of the review's table, each with its offer or None.
    """
    offers, found = offers_of(accounts, today, newest), []
    for arm, arm_course in courses_of(accounts, today).items():
        findings = [each for each in review(arm_course) if is_asked(each, course, today)]
        below = _number_of(findings, offers[arm]) if arm in offers else None
        found += [
            Noticed(arm, finding, offers[arm] if number == below else None) for number, finding in enumerate(findings)
        ]
    return found


def seal(offer: Offer) -> str:
    """Return a short hash of an offer; it changes when the log changes the offer."""
    return hashlib.sha256(repr(offer).encode()).hexdigest()[:_SEAL_LETTERS]

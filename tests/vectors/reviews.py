"""One course for each finding of the review, and the golden file of what is found in it.

`python -m tests.vectors.reviews` writes them; look at the difference before keeping it.
"""

import json
from datetime import date, timedelta
from pathlib import Path

from tests.dosing.spread import POUND_KG, POUNDS, WOMAN, plan_for
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.findings.arm_course import ArmCourse
from webapp.dosing.plan import start_state
from webapp.dosing.review import review

FOLDER = Path(__file__).parent / "review"
START = date(2026, 3, 2)


def day(during=1, morning=1, done="enough", **other):
    """A day with a session, rated `during` (None: not rated), and the next morning."""
    return DayFacts(1, done, during, is_unrated=during is None, morning=morning, **other)


def idle(morning=None):
    """A day without a session."""
    return DayFacts(morning=morning)


CALM, MISSED = day(), idle()
COURSES = {
    "sharp": (plan_for(), [*[CALM] * 4, day(4, None, sharp=True), MISSED, MISSED]),
    "held-after-rest": (plan_for(), [*[CALM] * 4, day(6, 5), *[idle(5)] * 7]),
    "rest-long": (plan_for(), [*[CALM] * 4, day(6, 5), *[idle(5)] * 2]),
    "flared-twice": (plan_for(), [*[CALM] * 4, day(6, 2), MISSED, CALM, day(7, 3)]),
    "silent": (plan_for(), [*[CALM] * 4, *[MISSED] * 8]),
    "no-session": (plan_for(), [*[CALM] * 4, day(6, 2), *[MISSED] * 3]),
    "mornings-missing": (plan_for(), [*[CALM] * 4, *[day(2, None)] * 3]),
    "week-worse": (plan_for(), [*[day(2, 0)] * 7, *[day(2, 2)] * 7]),
    "sore-long": (plan_for(usual=1), [day(2, 2), *[day(3, 3)] * 10]),
    "floor": (plan_for(start_rung=1), [day(2, 2), *[day(3, 3)] * 11]),
    "tender-at-half": (plan_for(), [day(2, 2), *[day(3, 3)] * 12]),
    "not-better-4-weeks": (plan_for(usual=4), [day(4, 4)] * 30),
    "not-better-6-weeks": (plan_for(usual=4), [day(4, 4)] * 44),
    "same-answers": (plan_for(), [day(0, 0)] * 34),
    "usual-too-low": (plan_for(), [day(1, 2), *[day(1, 3)] * 13]),
    "usual-too-high": (plan_for(usual=3), [day(2, 1)] * 14),
    "resting": (plan_for(), [*[CALM] * 4, *[day(6, 2), idle(2)] * 5]),
    "away": (plan_for(), [*[CALM] * 2, *[*[MISSED] * 3, CALM] * 3]),
    "tender": (plan_for(), [*[day(1, 2), day(1, 3), day(1, 3)] * 3, *[day(1, 3)] * 5]),
    "aching": (plan_for(), [day(4, 1)] * 11),
    "not-rated": (plan_for(), [day(None, 1)] * 11),
    "done-in-part": (plan_for(), [day(done="part")] * 11),
    "jump": (plan_for(weights=(0.0, 2.0), start_rung=6), [CALM] * 20),
    "by-hand": (plan_for(usual=4), [CALM] * 24),
    "plateau": (plan_for(start_rung=6, heavier_days=14, fast_heavier_days=14), [*[CALM] * 12, day(4, 1), *[CALM] * 12]),
    "goal-settled": (plan_for(weights=(0.0,), start_rung=6), [CALM] * 9),
    "peak": (plan_for(WOMAN, POUNDS, start_rung=22), [CALM] * 3),
    "jump-ahead": (plan_for(weights=(0.0, 2.0), start_rung=4), [CALM] * 2),
    "jump-too-wide": (plan_for(WOMAN, weights=(0.0, 2.0), start_rung=4), [CALM] * 2),
    "jump-with-one-bridge": (plan_for(weights=(0.0, 2.5), start_rung=4), [CALM] * 2),
    "nothing": (plan_for(weights=(0.0, POUND_KG)), [CALM] * 5),
}


def case_of(name):
    """Return the case of a course, every day of it closed."""
    plan, facts = COURSES[name]
    today = START + timedelta(len(facts))
    by_day = {START + timedelta(number): known for number, known in enumerate(facts)}
    days = follow(plan, start_state(plan), START, by_day, today)
    return ArmCourse(plan, days, days[-1].state_after, today)


def found(name):
    """Return the findings of a course as plain values."""
    return [
        {
            "id": finding.id,
            "since": finding.since.isoformat(),
            "evidence": [[on.isoformat(), number] for on, number in finding.evidence],
            "numbers": {key: round(number, 3) for key, number in finding.numbers},
        }
        for finding in review(case_of(name))
    ]


def text_of(name):
    """Return the text of a course's golden file."""
    return json.dumps(found(name), indent=1) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in COURSES:
        (FOLDER / f"{each}.json").write_text(text_of(each), encoding="utf-8")

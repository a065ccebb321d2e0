"""One course for each finding of the review, and the golden file of what is found in it.

`python -m tests.vectors.reviews` writes them; look at the difference before keeping it.
"""

import json
from datetime import date, timedelta
from pathlib import Path

from tests.dosing.spread import POUND_KG, POUNDS, WOMAN, plan_for
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import start_state
from webapp.dosing.review import Case, review

FOLDER = Path(__file__).parent / "review"
START = date(2026, 3, 2)


def done(during, morning, sessions=1, sharp=False):
    return DayFacts(sessions, during, morning, sharp)


MISSED = DayFacts()
CALM = done(1, 1)
COURSES = {
    "sharp": (plan_for(), [*[CALM] * 4, done(4, None, sharp=True), MISSED, MISSED]),
    "flared-twice": (plan_for(), [*[CALM] * 4, done(6, 2), MISSED, CALM, done(7, 3)]),
    "silent": (plan_for(), [*[CALM] * 4, *[MISSED] * 8]),
    "no-session": (plan_for(), [*[CALM] * 4, *[MISSED] * 3]),
    "mornings-missing": (plan_for(), [*[CALM] * 4, *[done(2, None)] * 3]),
    "week-worse": (plan_for(), [*[done(2, 1)] * 7, *[done(2, 2)] * 7]),
    "sore-long": (plan_for(usual=1), [CALM, *[done(3, 3)] * 10]),
    "not-better-4-weeks": (plan_for(usual=4), [done(4, 4)] * 30),
    "not-better-6-weeks": (plan_for(usual=4), [done(4, 4)] * 44),
    "plateau": (plan_for(), [CALM, done(4, 2)] * 8),
    "usual-lower": (plan_for(usual=3), [done(2, 1)] * 14),
    "goal-settled": (plan_for(weights=(0.0,), start_rung=6), [CALM] * 9),
    "peak": (plan_for(WOMAN, POUNDS, start_rung=22), [CALM] * 3),
    "jump-ahead": (plan_for(weights=(0.0, 2.0), start_rung=4), [CALM] * 2),
    "nothing": (plan_for(weights=(0.0, POUND_KG)), [CALM] * 5),
}


def found(name):
    """Give the findings of a course as plain values."""
    plan, facts = COURSES[name]
    today = START + timedelta(len(facts))
    by_day = {START + timedelta(number): known for number, known in enumerate(facts)}
    days = follow(plan, start_state(plan), START, by_day, today)
    case = Case(plan, days, days[-1].state_after, today)
    return [
        {
            "id": finding.id,
            "since": finding.since.isoformat(),
            "evidence": [[on.isoformat(), number] for on, number in finding.evidence],
            "numbers": {key: round(number, 3) for key, number in finding.numbers},
        }
        for finding in review(case)
    ]


def text_of(name):
    """Give the text of a course's golden file."""
    return json.dumps(found(name), indent=1) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in COURSES:
        (FOLDER / f"{each}.json").write_text(text_of(each), encoding="utf-8")

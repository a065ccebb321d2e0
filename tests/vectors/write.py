"""Writes the golden files beside it: `python -m tests.vectors.write`. Look at the difference before keeping it.

The files hold what the core decided; the core and the phone's look-up are both held to them.
"""

import json
import random
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path

from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.responses import cube
from webapp.dosing.settings import Body, Client, Routine, Tuning

FOLDER = Path(__file__).parent
START = date(2026, 3, 2)
PLANS = {
    "a man with pounds": (Tuning(), Client(Body(70, 1.75, "male"), ("right",), (0, 0.45359237, 0.90718474), 2)),
    "a woman with kilograms": (
        Tuning(first_week_sessions=3, settled_during=4),
        Client(Body(60, 1.62, "female"), ("right",), (0, 0.5, 1.0, 1.5), 4),
    ),
    "no weights and an eager practitioner": (
        Tuning(climb_days=2, widen_days=2, fast_climb_days=2),
        Client(Body(80, 1.8), ("right",), (0,), 0),
    ),
}
MOODS = {"calm": (0, 3, 0, 2), "sore": (2, 6, 1, 5), "wild": (0, 10, 0, 10)}


def diary(dice, mood, days):
    """Invent a diary: (facts by day), with gaps, missing reports and, in the wild one, sharp days."""
    low, high, morning_low, morning_high = MOODS[mood]
    facts = {}
    for number in range(days):
        sessions = dice.choice([0, 1, 1, 1, 1, 2])
        during = dice.choice([None, *[dice.randint(low, high)] * 9]) if sessions else None
        morning = dice.choice([None, *[dice.randint(morning_low, morning_high)] * 6])
        sharp = mood == "wild" and dice.random() < 0.02
        if dice.random() > 0.03:
            facts[START + timedelta(number)] = DayFacts(sessions, during, morning, sharp)
    return facts


def day_of(account):
    """Put one closed day in plain values."""
    return {
        "on": account.on.isoformat(),
        "facts": asdict(account.facts),
        "response": account.response,
        "reasons": list(account.reasons),
        "state": asdict(account.state_after),
    }


def courses():
    """Run every plan through every mood."""
    dice = random.Random(20260302)  # noqa: S311 - dice for invented diaries, not a secret
    for name, (tuning, client) in PLANS.items():
        plan = make_plan(Routine("Vectors", "wrist", tuning), client)
        for mood in MOODS:
            accounts = follow(plan, start_state(plan), START, diary(dice, mood, 70), START + timedelta(70))
            yield {"plan": name, "mood": mood, "days": [day_of(account) for account in accounts]}


def cubes():
    """Give the cube of every usual pain and settled ceiling."""
    for usual in range(6):
        for ceiling in range(2, 6):
            yield {"usual": usual, "settled_during": ceiling, "cells": cube(usual, Tuning(settled_during=ceiling))}


def texts():
    """Give the text of each golden file by name."""
    return {
        "courses.json": json.dumps(list(courses()), indent=0, separators=(",", ":")) + "\n",
        "cubes.json": json.dumps(list(cubes()), indent=0) + "\n",
    }


if __name__ == "__main__":
    for file_name, text in texts().items():
        (FOLDER / file_name).write_text(text, encoding="utf-8")

"""Writes the golden files beside it: `python -m tests.vectors.write`. Look at the difference before keeping it.

The files hold what the core decided; the core and the phone's look-up are both held to them.
"""

import json
import random
from dataclasses import asdict, replace
from datetime import date, timedelta
from pathlib import Path

from tests.cast import BELL_FOUNDER
from webapp.dosing import cue_sheet
from webapp.dosing.almanac import build
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.release import Return
from webapp.dosing.responses import ENOUGH, NONE, PART, cube
from webapp.dosing.settings import Body, Client, Routine, Tuning
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import make_bundle, prescribed
from webapp.words import words_for

FOLDER = Path(__file__).parent
START = date(2026, 3, 2)
PLANS = {
    "a man with pounds": (Tuning(), Client(Body(70, 1.75, "male"), ("right",), (0, 0.45359237, 0.90718474), 2)),
    "a woman with kilograms": (
        Tuning(first_week_sessions=3, settled_during=4),
        Client(Body(60, 1.62, "female"), ("right",), (0, 0.5, 1.0, 1.5), 4, clinician_seen=True),
    ),
    "no weights and an eager practitioner": (
        Tuning(climb_days=3, widen_days=3, first_week_sessions=1),
        Client(Body(80, 1.8), ("right",), (0,), 0),
    ),
}
# What of a bundle shapes a session, and the words in it, which shape nothing.
SESSION_PARTS = ("arms", "doses", "sheets", "steps", "counts", "timing", "change_arm", "rep_work")
WORDING = {"summary", "name", "cue", "hint"}
MOODS = {"calm": (0, 3, 0, 2), "sore": (2, 6, 1, 5), "wild": (0, 10, 0, 10)}


def diary(dice, mood, days):
    """Invent a diary: (facts by day), with gaps, missing reports and, in the wild one, sharp days."""
    low, high, morning_low, morning_high = MOODS[mood]
    facts = {}
    for number in range(days):
        sessions = dice.choice([0, 1, 1, 1, 1, 2])
        done = dice.choice([PART, *[ENOUGH] * 5]) if sessions else NONE
        during = dice.choice([None, *[dice.randint(low, high)] * 9]) if sessions else None
        morning = dice.choice([None, *[dice.randint(morning_low, morning_high)] * 6])
        sharp = mood == "wild" and dice.random() < 0.02
        if dice.random() > 0.03:
            is_unrated = done != NONE and (during is None or dice.random() < 0.05)
            facts[START + timedelta(number)] = DayFacts(sessions, done, during, is_unrated, morning, sharp)
    return facts


def day_of(account):
    """Put one closed day in plain values; the response is the automaton's own of twelve."""
    return {
        "on": account.on.isoformat(),
        "facts": asdict(account.facts),
        "before": account.before,
        "response": account.response,
        "reasons": list(account.reasons),
        "state": account.state_after._asdict(),
    }


def courses():
    """Run every plan through every mood."""
    dice = random.Random(20260302)  # noqa: S311 - dice for invented diaries, not a secret
    for name, (tuning, client) in PLANS.items():
        plan = make_plan(Routine("Vectors", "wrist", tuning), client)
        for mood in MOODS:
            releases = {START + timedelta(number): Return(2, 1) for number in range(10, 70, 10)}
            accounts = follow(plan, start_state(plan), START, diary(dice, mood, 70), START + timedelta(70), releases)
            yield {"plan": name, "mood": mood, "days": [day_of(account) for account in accounts]}


def cubes():
    """Give the cube of every usual pain and settled ceiling."""
    for usual in range(6):
        for ceiling in range(2, 6):
            yield {"usual": usual, "settled_during": ceiling, "cells": cube(usual, Tuning(settled_during=ceiling))}


def wordless(value):
    """Leave the words out of a part of a bundle."""
    if isinstance(value, list):
        return [wordless(entry) for entry in value]
    if isinstance(value, dict):
        return {key: wordless(entry) for key, entry in value.items() if key not in WORDING}
    return value


def session_parts():
    """Give doses and cue sheets as a phone gets them, and each dose's length from the core itself.

    They are the bell founder's, were both arms sore and his heaviest weight lent out: small, and with every kind of step.
    """
    client = replace(BELL_FOUNDER, arms=("right", "left"), weights=BELL_FOUNDER.weights[:3])
    prescription = prescribed(starter(client.area), client.settings, 1)
    bundle = make_bundle(prescription, words_for("en"), the_shelf())
    sheets = [cue_sheet.write(prescription.plan, dose) for dose in build(prescription.plan).doses]
    lengths = [cue_sheet.seconds_of(sheet) for sheet in sheets]
    return {**{name: wordless(bundle[name]) for name in SESSION_PARTS}, "dose_seconds": lengths}


def texts():
    """Give the text of each golden file by name."""
    return {
        "courses.json": json.dumps(list(courses()), indent=0, separators=(",", ":")) + "\n",
        "cubes.json": json.dumps(list(cubes()), indent=0) + "\n",
        "session.json": json.dumps(session_parts(), indent=0, separators=(",", ":")) + "\n",
    }


if __name__ == "__main__":
    for file_name, text in texts().items():
        (FOLDER / file_name).write_text(text, encoding="utf-8")

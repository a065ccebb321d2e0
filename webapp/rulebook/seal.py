"""The seal: a hash that changes with any rule, number or sentence that a clinician signs."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict

from webapp.dosing.almanac import Almanac
from webapp.dosing.dose import Dose
from webapp.dosing.responses import cube
from webapp.dosing.settings import BOUNDS, Tuning
from webapp.rulebook.section import Section

GROUP = 4
LETTERS = 32
DECIMALS = 6
"""Numbers are rounded to this many decimals, so that every machine computes the same seal."""


def _dose(dose: Dose) -> list[object]:
    sets = [(each.movement, each.reps, round(each.load_kg, DECIMALS), each.range) for each in dose.sets]
    return [dose.mode, dose.sessions, sets, [(hold.movement, hold.seconds) for hold in dose.holds]]


def seal_of(sections: Sequence[Section], table: Almanac, notice: Sequence[str]) -> str:
    """Return a hash over all that a clinician signs: the parts in words, the safety notice, and what the rules do.

    The hash includes the example's whole table and the class of every combination of ratings. So the seal also changes
    where the code of a rule changes and its words stay the same.

    Args:
        sections: The parts, in English.
        table: The table of the example, with a row for each state.
        notice: The safety notice, in English.

    Returns:
        Hexadecimal digits in groups of four.
    """
    usuals = range(int(BOUNDS["usual"].low), int(BOUNDS["usual"].high) + 1)
    signed = {
        "sections": [asdict(section) for section in sections],
        "notice": notice,
        "next": table.next,
        "reasons": table.reasons,
        "gap": {name: list(rows) for name, rows in table.gap.columns.items()},
        "doses": [_dose(dose) for dose in table.doses],
        "dose_of": table.dose_of,
        "cubes": [cube(usual, Tuning()) for usual in usuals],
    }
    text = json.dumps(signed, sort_keys=True, ensure_ascii=False)
    letters = hashlib.sha256(text.encode()).hexdigest()[:LETTERS]
    return " ".join(letters[start : start + GROUP] for start in range(0, LETTERS, GROUP))

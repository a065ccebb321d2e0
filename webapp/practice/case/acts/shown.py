"""What the acts show on the case page."""

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from flask_wtf import FlaskForm

from webapp.practice.case.acts.archiving import about_archive
from webapp.practice.case.acts.by_hand import ACTS, EASE, START_OVER, by_hand_form, choices
from webapp.practice.case.acts.correcting import about_corrections
from webapp.practice.case.acts.noting import about_notes
from webapp.practice.case.acts.resting import RestForm
from webapp.practice.standing import Line


def about_acts(line: Line, sent: Mapping[str, FlaskForm]) -> dict[str, Any]:
    """Return the acts that can be done today, each with its form, and the private notes.

    Args:
        line: The client today.
        sent: By name, forms that were sent with a fault; each takes the place of the empty form.
    """
    possible = {act: choices(line, act) for act in ACTS}
    named = [(act, choice.stand.arm) for act, found in possible.items() for choice in found]
    forms = {f"{act}-{arm}": by_hand_form(act, arm) for act, arm in named} | dict(sent)
    rest = forms.pop("rest", None) or RestForm(prefix="rest")
    acts = SimpleNamespace(ease=possible[EASE], start_over=possible[START_OVER], rest=rest, forms=forms)
    return {
        "acts": acts,
        **about_notes(line.case, sent.get("note")),
        **about_archive(line, sent.get("archive")),
        **about_corrections(line),
    }

"""Easing an arm one step, or starting it over at the bottom: the form, the dose before and after, and the version that follows."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.dosing.dose import Dose, dose
from webapp.dosing.hand import by_hand
from webapp.dosing.settings import ARMS
from webapp.dosing.state import MOST_EASE, State
from webapp.practice.forms.entries import LONGEST_NOTE, at_most, needed, trimmed
from webapp.practice.forms.fields import OneOfField
from webapp.practice.standing import Line, Standing
from webapp.records.routines import RoutineVersion

EASE, START_OVER = "ease", "start_over"
ACTS = (EASE, START_OVER)


class ByHandForm(FlaskForm):
    """The arm that is set by hand, and the reason that the client reads as the note of the version.

    `seen` says on which version, rung and ease the page was made: if the arm stands elsewhere by now, nothing is pushed.
    """

    by_hand_arm = OneOfField(ARMS, validators=[needed])
    by_hand_note = TextAreaField(validators=[needed, at_most(LONGEST_NOTE)], filters=[trimmed])
    by_hand_seen = StringField()


@dataclass(frozen=True)
class Choice:
    """What an act would do to one arm.

    Attributes:
        act: One of `ACTS`.
        stand: The arm today.
        before: What a training day asks now.
        after: What it would ask.
        ease: The step of ease after it.
        rung: The rung after it.
    """

    act: str
    stand: Standing
    before: Dose
    after: Dose
    ease: int
    rung: int

    @property
    def seen(self) -> str:
        """What the page was made on, in one word."""
        state = self.stand.state
        return f"{self.stand.account.version}-{state.rung}-{state.ease}-{state.mode}"

    @property
    def less(self) -> int:
        """How much less work it is, in per cent of what a day asks now."""
        return round(100 * (1 - self.after.work_j / self.before.work_j)) if self.before.work_j else 0


def choices(line: Line, act: str) -> list[Choice]:
    """Return what an act would do to each arm that it can be done to.

    A held arm is released, not eased; an arm at half range has no step left; one on the lowest rung is at the bottom.
    An arm is left out while a version is on its way, since it does not stand where the page says it does.
    """
    ready = (stand for stand in line.standings if stand.mode != "held" and _is_in_force(line, stand))
    return [_choice(stand, act) for stand in ready if _can(stand.state, act)]


def _is_in_force(line: Line, stand: Standing) -> bool:
    return line.version is not None and stand.account.version == line.version.version


def _can(state: State, act: str) -> bool:
    return state.ease < MOST_EASE if act == EASE else state.rung > 1


def _choice(stand: Standing, act: str) -> Choice:
    plan, state = stand.account.plan, stand.state._replace(mode="training", rest_days=0)
    rung, ease = (state.rung, state.ease + 1) if act == EASE else (1, state.ease)
    return Choice(act, stand, dose(plan, state), dose(plan, by_hand(plan, state, rung, ease)), ease, rung)


def settings_after(version: RoutineVersion, choice: Choice) -> Mapping[str, Any]:
    """Return the settings of the version that follows: the other arm goes on as it stands."""
    arm = choice.stand.arm
    if choice.act == EASE:
        return {**version.settings, "start_rungs": {}, "eases": {arm: choice.ease}}
    return {**version.settings, "start_rungs": {arm: choice.rung}, "eases": {}}


def by_hand_form(act: str, arm: str) -> ByHandForm:
    """Build the empty form of an act on an arm."""
    return ByHandForm(prefix=f"{act}-{arm}")

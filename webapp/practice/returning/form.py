"""The forms that open and end a way back."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, StringField, TextAreaField

from webapp.dosing.faults import Fault
from webapp.dosing.returning.gate import GatePoint
from webapp.dosing.returning.own_activity import NOT_TOLD, OWN_ACTIVITY
from webapp.events.kinds import SEEN_BY
from webapp.library.ladders import the_ladders
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME, at_most, needed, trimmed
from webapp.practice.forms.fields import DayField, OneOfField

LONGEST_REASON = 280
MOST_AHEAD = timedelta(days=1)
"""The gate is looked at on the day of the form alone, so sport begins then or on the next day: a flare or a stop may come between."""
SEEN_WITHIN = timedelta(days=366)
NOTHING_SPEAKS_AGAINST, CLINICIAN_AGREES = "none", "seen"


class OpenWayForm(FlaskForm):
    """Opens a way back. `way_seen` is a hash of what the page knew."""

    ladder = OneOfField(tuple(the_ladders()), validators=[needed])
    way_step = OneOfField(())
    way_from = DayField(validators=[needed])
    own_activity = BooleanField()
    clinician = OneOfField((NOTHING_SPEAKS_AGAINST, CLINICIAN_AGREES), validators=[needed])
    way_seen_by = OneOfField(SEEN_BY)
    way_seen_on = DayField()
    way_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    way_seen = StringField()

    def judge(self, today: date, gate: Sequence[GatePoint]) -> bool:
        """Check the entries; nothing is opened while a point of the gate is not met."""
        self.way_from.earliest, self.way_from.latest = today, today + MOST_AHEAD
        self.way_seen_on.earliest, self.way_seen_on.latest = today - SEEN_WITHIN, today
        self.way_step.offered = steps_offered()
        if self.clinician.data == CLINICIAN_AGREES:
            self.way_seen_by.validators = (needed,)
            self.way_seen_on.validators = (needed,)
        is_whole = bool(self.validate())
        page = the_ladders().get(str(self.ladder.data))
        if is_whole and page and int(self.way_step.data or 1) > len(page.ladder.steps):
            self.way_step.errors = [
                Fault("out_of_range", "way_step", self.way_step.data, (1, len(page.ladder.steps), "steps"))
            ]
            is_whole = False
        if is_asked(gate) and not self.own_activity.data:
            self.own_activity.errors = [Fault("gate_own_activity", "own_activity", "")]
            is_whole = False
        if not all(point.is_met for point in gate if not is_asked([point])):
            self.ladder.errors = [*self.ladder.errors, Fault("gate_not_met", "ladder", "")]
            return False
        return is_whole

    def body(self, gate: Sequence[GatePoint]) -> dict[str, Any]:
        """Return the body of the entry, signed with the practitioner's name."""
        ticked = [*([OWN_ACTIVITY] if is_asked(gate) else []), "clinician"]
        seen = {"role": self.way_seen_by.data, "on": str(self.way_seen_on.data)}
        return {
            "ladder": self.ladder.data,
            "step": int(self.way_step.data or 1),
            "gate": [*(point.id for point in gate), "clinician"],
            "ticked": ticked,
            **({"seen_by": seen} if self.clinician.data == CLINICIAN_AGREES else {}),
            "reason": self.way_reason.data,
            "by": desk.signed_in().name[:LONGEST_NAME],
        }


class EndWayForm(FlaskForm):
    """Ends a way back."""

    end_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    way_seen = StringField()

    def body(self) -> dict[str, Any]:
        """Return the body of the entry, signed with the practitioner's name."""
        return {"reason": self.end_reason.data, "by": desk.signed_in().name[:LONGEST_NAME]}


def is_asked(gate: Sequence[GatePoint]) -> bool:
    """Say whether the client's own activity is asked about, since the log does not tell of it."""
    return any(point.id == OWN_ACTIVITY and point.evidence["answer"] == NOT_TOLD for point in gate)


def steps_offered() -> tuple[str, ...]:
    """Return every step that some ladder has, as the choices of a form."""
    most = max(len(page.ladder.steps) for page in the_ladders().values())
    return tuple(str(step) for step in range(1, most + 1))

"""The short forms: signing in, adding a client, releasing a hold, and buttons that change something.

Every form carries a token of its own session; one without it is shown again, with nothing lost.
"""

from datetime import date

from flask_wtf import FlaskForm
from wtforms import BooleanField, Field, PasswordField, StringField, TextAreaField
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS, BOUNDS, Bound
from webapp.events.kinds import SEEN_BY
from webapp.practice.fields import (
    DayField,
    MeasureField,
    NumberField,
    OneOfField,
    TicksField,
    WeightsField,
    at_most,
    needed,
    trimmed,
)
from webapp.practice.quantities import KILOGRAMS_OF, METRES_OF

LONGEST_NAME = 80
LONGEST_NOTE = 600
LONGEST_REASON = 280
SCALE = Bound(0, 10, "of 10", "common-practice")


class ButtonForm(FlaskForm):
    """A single button; nothing to type."""


class SignInForm(FlaskForm):
    """E-mail address and password."""

    email = StringField(validators=[needed, at_most(254)], filters=[trimmed])
    password = PasswordField(validators=[needed, at_most(1024)])


class IntakeForm(FlaskForm):
    """What the core needs to know of a client, and that the warning signs were asked."""

    name = StringField(validators=[needed, at_most(LONGEST_NAME)], filters=[trimmed])
    area = OneOfField(validators=[needed])
    arms = TicksField(choices=ARMS, validators=[needed])
    mass_kg = MeasureField(BOUNDS["mass_kg"], KILOGRAMS_OF, validators=[needed])
    height_m = MeasureField(BOUNDS["height_m"], METRES_OF, validators=[needed])
    sex = OneOfField(("female", "male", "unsaid"), validators=[needed])
    weights_unit = OneOfField(tuple(KILOGRAMS_OF), default="kg")
    weights = WeightsField()
    usual = NumberField(SCALE, validators=[needed])
    clinician_seen = BooleanField()
    start_rung_right = NumberField(BOUNDS["start_rung"])
    start_rung_left = NumberField(BOUNDS["start_rung"])
    note = TextAreaField(validators=[at_most(LONGEST_NOTE)], filters=[trimmed])
    screened = BooleanField(validators=[needed])

    def validate_usual(self, field: Field) -> None:
        """Send anybody whose ordinary morning is past the bound to a clinician first."""
        most = BOUNDS["usual"].high
        if field.data is not None and field.data > most:
            raise StopValidation(Fault("clinician_first", "usual", field.data, (most,)))


class ReleaseForm(FlaskForm):
    """Where a held arm starts again, as `rung@range`, why, that it was talked over and, where asked, who has seen it.

    `seen` seals the sharp reports that the page listed: one that comes in or is answered meanwhile is not released unread.
    """

    arm = OneOfField(ARMS, validators=[needed])
    chosen = OneOfField(validators=[needed])
    reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    seen_by = OneOfField(SEEN_BY)
    seen_on = DayField()
    confirmed = BooleanField(validators=[needed])
    seen = StringField()

    def ask_who_saw(self, earliest: date, latest: date) -> None:
        """Ask who has seen the arm, and on which day of a span; without this the two entries are not asked for."""
        self.seen_on.earliest, self.seen_on.latest = earliest, latest
        for field in (self.seen_by, self.seen_on):
            field.validators = (needed,)

    @property
    def asks_who_saw(self) -> bool:
        """Say whether it is asked who has seen the arm."""
        return needed in self.seen_by.validators


class OfferForm(FlaskForm):
    """The reason, for the client, for another usual pain or settled ceiling.

    `seen` seals the offer that the page showed: one that the log has changed meanwhile is not taken up unread.
    """

    note = TextAreaField(validators=[needed, at_most(LONGEST_NOTE)], filters=[trimmed])
    seen = StringField()


def start_field(arm: str) -> str:
    """Return the name of the field that takes the rung of an arm, here and on the routine desk."""
    return f"start_rung_{arm}"


START_FIELDS = {arm: start_field(arm) for arm in ARMS}


def offer_prefix(arm: str) -> str:
    """Return what the names of an offer's fields begin with."""
    return f"{arm}-offer"

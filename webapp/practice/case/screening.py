"""The screening on the case page: what the client ticked before the first session, and the practitioner's word on it."""

from datetime import date, timedelta

from flask_wtf import FlaskForm
from wtforms import BooleanField, StringField, TextAreaField

from webapp.events.kinds import SEEN_BY
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME, at_most, needed, trimmed
from webapp.practice.forms.fields import DayField, OneOfField
from webapp.sync.case.hold import Grounds

LONGEST_REASON = 280
SEEN_WITHIN = timedelta(days=366)


class ClearForm(FlaskForm):
    """The form that lets a client start in spite of signs of the level 'ask first'.

    `seen` is a hash of the signs that the page listed. If others wait by then, the practitioner must read the page again. Who was
    asked may be left open: a practitioner may be licensed to decide alone. One who was asked was asked on a day.
    """

    reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    seen_by = OneOfField(SEEN_BY)
    seen_on = DayField()
    confirmed = BooleanField(validators=[needed])
    seen = StringField()

    def judge(self, today: date) -> bool:
        """Check the entries; the day on which somebody was asked is needed where one was."""
        self.seen_on.earliest, self.seen_on.latest = today - SEEN_WITHIN, today
        if self.seen_by.data:
            self.seen_on.validators = (needed,)
        return bool(self.validate())

    def grounds(self) -> Grounds:
        """Return the reason, the practitioner's name, and who was asked."""
        role, on = self.seen_by.data, self.seen_on.data
        return Grounds(self.reason.data, desk.signed_in().name[:LONGEST_NAME], (role, on) if role and on else None)

"""A rest until a day: the form, and what it makes of the days until then."""

from datetime import date, timedelta

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.dosing.faults import Fault
from webapp.events.course_set import SetCourse
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME, at_most, needed, trimmed
from webapp.practice.forms.fields import DayField
from webapp.practice.standing import Line

LONGEST_REASON = 280
LONGEST_REST = timedelta(days=60)
ONE_DAY = timedelta(days=1)


class RestForm(FlaskForm):
    """The form that lets a client rest until a day, from today on.

    `rest_seen` is a hash of the courses that the page knew, as in the form that sets a course.
    """

    rest_until = DayField(validators=[needed])
    rest_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    rest_seen = StringField()

    def judge(self, line: Line) -> bool:
        """Check the entries; who has ended has nothing to rest from."""
        self.rest_until.earliest, self.rest_until.latest = line.today + ONE_DAY, line.today + LONGEST_REST
        is_whole = bool(self.validate())
        if is_whole and line.course.to == "ended":
            self.rest_until.errors = [Fault("ended_course", "rest_until", "")]
            return False
        return is_whole

    def chosen(self, today: date) -> SetCourse:
        """Return the rest as it was chosen, signed with the practitioner's name."""
        by = desk.signed_in().name[:LONGEST_NAME]
        return SetCourse("rest", 0, today, str(self.rest_reason.data), by, until=self.rest_until.data)

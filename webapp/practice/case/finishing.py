"""Finishing on the case page: training, maintenance on some days of a week, or the end, from a day on."""

from datetime import date, timedelta
from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.dosing.faults import Fault
from webapp.events.course_set import SetCourse
from webapp.events.kinds import COURSES, FEWEST_DAYS_A_WEEK, MOST_DAYS_A_WEEK
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME, at_most, needed, trimmed
from webapp.practice.forms.fields import DayField, OneOfField
from webapp.practice.standing import Line
from webapp.sync.case import finishing

LONGEST_REASON = 280
MOST_AHEAD = timedelta(days=60)
MOST_UNTIL_SEEN = timedelta(days=366)
DAYS_OFFERED = tuple(str(days) for days in range(FEWEST_DAYS_A_WEEK, MOST_DAYS_A_WEEK + 1))


class CourseForm(FlaskForm):
    """The form that sets a course.

    `course_seen` is a hash of the courses that the page knew. If another was set by then, the practitioner must read it first.
    """

    course = OneOfField([each for each in COURSES if each != "rest"], validators=[needed])
    days_a_week = OneOfField(DAYS_OFFERED)
    course_from = DayField(validators=[needed])
    course_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    seen_again_on = DayField()
    course_seen = StringField()

    def judge(self, line: Line) -> bool:
        """Check the entries; an arm that is held allows nothing but training."""
        self.course_from.earliest, self.course_from.latest = line.today, line.today + MOST_AHEAD
        self.seen_again_on.earliest, self.seen_again_on.latest = line.today, line.today + MOST_UNTIL_SEEN
        if self.course.data == "maintenance":
            self.days_a_week.validators = (needed,)
        is_whole = bool(self.validate())
        if is_whole and self.course.data != "training" and is_any_held(line):
            self.course.errors = [Fault("held_course", "course", "")]
            return False
        return is_whole

    def chosen(self) -> SetCourse:
        """Return the course as it was chosen, signed with the practitioner's name."""
        to, since = str(self.course.data), self.course_from.data
        days = int(self.days_a_week.data or 0) if to == "maintenance" else 0
        by, again = desk.signed_in().name[:LONGEST_NAME], self.seen_again_on.data
        return SetCourse(to, days, since, str(self.course_reason.data), by, again)


def is_any_held(line: Line) -> bool:
    """Say whether an arm is held today."""
    return any(stand.mode == "held" for stand in line.standings)


def about_finishing(line: Line, sent: CourseForm | None) -> dict[str, Any]:
    """Return what the section shows: the form, and whether a hold forbids the end.

    Args:
        line: The client today.
        sent: The form that was sent with a fault; it takes the place of the empty form.
    """
    return {
        "course_form": sent or _empty(line.today),
        "course_seal": finishing.seal(line.courses),
        "is_any_held": is_any_held(line),
        "days_offered": DAYS_OFFERED,
    }


def _empty(today: date) -> CourseForm:
    form = CourseForm(prefix="finish")
    form.course_from.data = today
    return form

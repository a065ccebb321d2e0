"""The practitioner sets a course on the case page: training, maintenance or the end. It is an event in the client's log."""

from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.finishing import CourseForm
from webapp.practice.standing import line_for
from webapp.sync.case import finishing


def set_course(public_id: str) -> Response | tuple[str, int]:
    """Set a course, or show the case page again with the faults."""
    shown = desk.own_case(public_id)
    form = CourseForm(prefix="finish")
    if not form.judge(line_for(shown)):
        return page.page_of(shown, acts={"course": form}), 400
    try:
        finishing.set_course(desk.records(), shown.id, form.chosen(), form.course_seen.data or "", now=desk.now())
    except finishing.CourseChangedError:
        form.course.errors = [Fault("new_course", "course", "")]
        return page.page_of(shown, acts={"course": form}), 400
    desk.say_later("course_set", form.course_from.data)
    return desk.back_to_case(shown)

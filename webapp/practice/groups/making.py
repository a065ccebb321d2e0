"""Making a group invitation: a name, a routine, until when, for how many, and the practitioner's word in advance."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from flask import redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import BooleanField, StringField

from webapp.dosing.settings import Bound
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.practice.forms.fields import DayField, NumberField, OneOfField
from webapp.records import groups
from webapp.records.groups import NewGroup
from webapp.sync.log import practice_events
from webapp.sync.log.local_day import local_day
from webapp.words.group_word import WORD, WORD_MARK

LONGEST_NAME = 40
LONGEST = timedelta(days=92)
MANY = Bound(1, 200, "people", "own-choice")
USUAL_MANY, USUAL_DAYS = 30, 14


class GroupForm(FlaskForm):
    """A new group; `key` is the form's own, so that a form that is sent twice makes one group."""

    name = StringField(validators=[needed, at_most(LONGEST_NAME)], filters=[trimmed])
    area = OneOfField(validators=[needed])
    group_until = DayField(validators=[needed])
    most_people = NumberField(MANY, validators=[needed])
    locale = OneOfField(validators=[needed])
    started_unseen = BooleanField(validators=[needed])
    key = StringField(validators=[needed, at_most(LONGEST_NAME)])


def add() -> Response | tuple[str, int] | str:
    """Show the form of a new group, or make the group and show its link."""
    form = _form()
    if request.method != "POST":
        return _page(form)
    if not form.validate():
        return _page(form), 400
    made = groups.make(desk.records(), _chosen(form), str(form.key.data), desk.now())
    return redirect(url_for("practice.groups.show", group_id=made), 303)


def _form() -> GroupForm:
    today = local_day(desk.now(), desk.zone())
    first = {"group_until": today + timedelta(days=USUAL_DAYS), "most_people": USUAL_MANY, "locale": desk.locale()}
    form = GroupForm(data={**first, "key": practice_events.new_id(desk.now())})
    form.area.offered = the_shelf().areas
    form.locale.offered = desk.settings().locales
    form.group_until.earliest, form.group_until.latest = today, today + LONGEST
    return form


def _chosen(form: GroupForm) -> NewGroup:
    routine = starter(str(form.area.data))
    tuning = desk.tuned(routine.get("tuning", {}))
    assert form.group_until.data is not None, "a valid form has a day"
    # The link is good to the end of its last day.
    ends_at = datetime.combine(form.group_until.data + timedelta(days=1), time(), ZoneInfo(desk.zone())).astimezone(UTC)
    return NewGroup(
        practitioner=desk.signed_in().id,
        name=str(form.name.data),
        locale=str(form.locale.data),
        routine={**routine, "tuning": tuning},
        most=int(form.most_people.data or 0),
        ends_at=ends_at,
        confirmed=WORD_MARK,
    )


def _page(form: GroupForm) -> str:
    return render_template("groups/add.html", form=form, offered_areas=the_shelf().areas, group_word=WORD)

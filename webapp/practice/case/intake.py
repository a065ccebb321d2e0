"""Adding a client: the questions about warning signs, then what the core needs to know; or the client tells it on the phone."""

import hashlib
import json
import secrets
from collections.abc import Mapping
from typing import Any

from flask import redirect, render_template, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import BooleanField, Field, StringField, TextAreaField
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS, BOUNDS, Bound
from webapp.events.kinds import LEVELS, Event
from webapp.library.client import read_client
from webapp.library.faults import NotAcceptedError
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME, LONGEST_NOTE, START_FIELDS, at_most, needed, put_beside, trimmed
from webapp.practice.forms.fields import MeasureField, NumberField, OneOfField, TicksField, WeightsField
from webapp.practice.forms.quantities import KILOGRAMS_OF, METRES_OF, Quantity
from webapp.records import cases
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.sync.case.screening import screening_of
from webapp.sync.case.told_intake import AREA_OF, TOLD_LATER
from webapp.sync.log import practice_events
from webapp.sync.log.local_day import local_day

PUBLIC_ID_BYTES = 10
KEY_BYTES = 16
SCALE = Bound(0, 10, "of 10", "common-practice")
SETTINGS = ("mass_kg", "height_m", "sex", "arms", "weights", "usual", "clinician_seen", "start_rungs")


class NameForm(FlaskForm):
    """The name of a client who tells the intake on the phone. `key` is new on each page: see `_add`."""

    key = StringField(filters=[trimmed])
    name = StringField(validators=[needed, at_most(LONGEST_NAME)], filters=[trimmed])


class PersonForm(FlaskForm):
    """Who a client is: what the intake asks and a correction may change."""

    name = StringField(validators=[needed, at_most(LONGEST_NAME)], filters=[trimmed])
    area = OneOfField(validators=[needed])
    arms = TicksField(choices=ARMS, validators=[needed])
    mass_kg = MeasureField(BOUNDS["mass_kg"], KILOGRAMS_OF, validators=[needed])
    height_m = MeasureField(BOUNDS["height_m"], METRES_OF, validators=[needed])
    sex = OneOfField(("female", "male", "unsaid"), validators=[needed])
    note = TextAreaField(validators=[at_most(LONGEST_NOTE)], filters=[trimmed])


class IntakeForm(PersonForm):
    """What the core needs to know about a client, and that the practitioner asked about the warning signs; `key` as above."""

    key = StringField(filters=[trimmed])
    weights_unit = OneOfField(tuple(KILOGRAMS_OF), default="kg")
    weights = WeightsField()
    usual = NumberField(SCALE, validators=[needed])
    clinician_seen = BooleanField()
    start_rung_right = NumberField(BOUNDS["start_rung"])
    start_rung_left = NumberField(BOUNDS["start_rung"])
    screened = BooleanField(validators=[needed])

    def validate_usual(self, field: Field) -> None:
        """Refuse a usual morning pain above the bound: such a client must see a clinician first."""
        most = BOUNDS["usual"].high
        if field.data is not None and field.data > most:
            raise StopValidation(Fault("clinician_first", "usual", field.data, (most,)))


def _signs() -> list[tuple[str, str, list[str]]]:
    """List the levels of warning signs, the most urgent first: name, what to do, texts of the signs."""
    shelf, say = the_shelf(), desk.words().say
    return [
        (level, say(shelf.to_do[level]), [say(sign.text) for sign in shelf.warnings if sign.level == level])
        for level in LEVELS
    ]


def _answers(form: IntakeForm) -> dict[str, Any]:
    """Turn a valid form into the intake as it is stored."""
    return {
        "area": form.area.data,
        "mass_kg": form.mass_kg.data,
        "height_m": form.height_m.data,
        "sex": None if form.sex.data == "unsaid" else form.sex.data,
        "arms": [arm for arm, *_ in form.arms.iter_choices() if arm in form.arms.data],
        "weights": [{"value": each.value, "unit": each.unit} for each in form.weights.data],
        "usual": form.usual.data,
        "clinician_seen": form.clinician_seen.data,
        "start_rungs": {arm: form[name].data for arm, name in START_FIELDS.items() if form[name].data is not None},
        "note": form.note.data,
    }


def _is_accepted(form: IntakeForm) -> bool:
    """Check all entries together with the library; put its faults beside the entries."""
    answers = _answers(form)
    settings = {name: answers[name] for name in SETTINGS}
    try:
        read_client({**settings, "weights_kg": [each.kilograms for each in form.weights.data]})
    except NotAcceptedError as error:
        put_beside(form, error.faults, {"weights_kg": "weights", **START_FIELDS})
        return False
    return True


def add_client() -> Response | tuple[str, int] | str:
    """Show the intake form, or add the client and lead on to the client's routine."""
    form = _form()
    if not form.is_submitted():
        return _page(form)
    if not form.validate() or not _is_accepted(form):
        return _page(form), 400
    made = _add(form, _answers(form))
    return redirect(url_for("practice.routine.edit", public_id=made.public_id), 303)


def add_by_name() -> Response | tuple[str, int]:
    """Add a client who tells the intake on the phone; of them only the name is known."""
    form = NameForm(prefix="short")
    if not form.validate():
        return _page(_form(), form), 400
    return desk.back_to_case(_add(form, TOLD_LATER))


def _add(form: NameForm | IntakeForm, intake: Mapping[str, Any]) -> Case:
    """Add a client. The same entries sent twice from one page add one client; other entries add another."""
    db, by = desk.records(), desk.signed_in().id
    sent = json.dumps([by, form.key.data or secrets.token_hex(KEY_BYTES), form.name.data, intake], sort_keys=True)
    public_id = hashlib.sha256(sent.encode()).hexdigest()[: 2 * PUBLIC_ID_BYTES]
    with write(db):
        made = cases.find(db, by, public_id)
        if made is None:
            made = cases.put(db, by, public_id, form.name.data, desk.locale(), intake, desk.now())
    desk.say_later("asked" if made.asks_intake else "added", made.name)
    return made


def confirm(public_id: str) -> Response | tuple[str, int] | str:
    """Show the intake form with what the client told, or confirm it and lead on to the client's routine."""
    shown, db = desk.own_case(public_id), desk.records()
    if not shown.asks_intake:
        desk.say_later("nothing_waits")
        return desk.back_to_case(shown)
    own_intake = screening_of(db, shown.id).own_intake
    form = _form()
    form.name.data = shown.name
    if not form.is_submitted():
        return _page(_filled(form, own_intake.body if own_intake else {}), confirming=shown, own_intake=own_intake)
    if not form.validate() or not _is_accepted(form):
        return _page(form, confirming=shown, own_intake=own_intake), 400
    with write(db):
        # The group's start, or another window, may have confirmed it since the page was opened.
        if not cases.asks_intake(db, shown.id):
            desk.say_later("nothing_waits")
            return desk.back_to_case(shown)
        cases.complete(db, shown.id, _answers(form))
        body = {"by": desk.signed_in().name[:LONGEST_NAME]}
        today = local_day(desk.now(), desk.zone())
        practice_events.put(db, shown.id, "intake_confirmed", today, body, desk.now())
    desk.say_later("intake_confirmed")
    return redirect(url_for("practice.routine.edit", public_id=shown.public_id), 303)


def _form() -> IntakeForm:
    form = IntakeForm()
    form.area.offered = the_shelf().areas
    return form


def _filled(form: IntakeForm, answers: Mapping[str, Any]) -> IntakeForm:
    """Fill the form with what the client told; what was left out stays empty."""
    form.arms.data = answers.get("arms", [])
    form.area.data = next((area for spot, area in AREA_OF.items() if spot in answers.get("places", ())), None)
    form.usual.data, form.mass_kg.data, form.height_m.data = (
        answers.get(key) for key in ("usual", "mass_kg", "height_m")
    )
    form.weights.data = [Quantity(weight, "kg") for weight in answers.get("weights_kg", ())]
    return form


def _page(
    form: IntakeForm, short: NameForm | None = None, confirming: Case | None = None, own_intake: Event | None = None
) -> str:
    return render_template(
        "case/add.html",
        form=form,
        short=short or NameForm(prefix="short"),
        confirming=confirming,
        own_intake=own_intake,
        warnings=_signs(),
        offered_areas=the_shelf().areas,
        key=secrets.token_hex(KEY_BYTES),
    )

"""Adding a client: the warning signs asked, then what the core needs to know."""

import secrets
from typing import Any

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.library.client import read_client
from webapp.library.faults import NotAcceptedError
from webapp.library.shelf import LEVELS, the_shelf
from webapp.practice import blueprint, desk
from webapp.practice.fields import put_beside
from webapp.practice.forms import START_FIELDS, IntakeForm
from webapp.records import cases

PUBLIC_ID_BYTES = 10
SETTINGS = ("mass_kg", "height_m", "sex", "arms", "weights", "usual", "clinician_seen", "start_rungs")


def _signs() -> list[tuple[str, str, list[str]]]:
    """List each level of warning signs, the most urgent first: its name, what it asks for, the signs."""
    shelf, say = the_shelf(), desk.words().say
    return [
        (level, say(shelf.to_do[level]), [say(sign.text) for sign in shelf.warnings if sign.level == level])
        for level in LEVELS
    ]


def _answers(form: IntakeForm) -> dict[str, Any]:
    """Turn a valid form into the intake as stored."""
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
    """Have the library look at the whole; what it finds goes beside the entries."""
    answers = _answers(form)
    settings = {name: answers[name] for name in SETTINGS}
    try:
        read_client({**settings, "weights_kg": [each.kilograms for each in form.weights.data]})
    except NotAcceptedError as error:
        put_beside(form, error.faults, {"weights_kg": "weights", **START_FIELDS})
        return False
    return True


@blueprint.route("/add", methods=["GET", "POST"])
def add_client() -> Response | tuple[str, int] | str:
    """Show the intake, or add the client and go on to their routine."""
    form = IntakeForm()
    form.area.offered = the_shelf().areas
    if not form.is_submitted():
        return _page(form)
    if not form.validate() or not _is_accepted(form):
        return _page(form), 400
    made = cases.add(
        desk.records(),
        desk.signed_in().id,
        secrets.token_hex(PUBLIC_ID_BYTES),
        form.name.data,
        desk.locale(),
        _answers(form),
        desk.now(),
    )
    desk.say_later("added", made.name)
    return redirect(url_for("practice.routine", public_id=made.public_id), 303)


def _page(form: IntakeForm) -> str:
    return render_template("pages/practice_add.html", form=form, warnings=_signs(), offered_areas=the_shelf().areas)

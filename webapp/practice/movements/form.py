"""The form of an own movement: its entries, and the mapping that the library reads and the records keep.

The bounds come from the core and the practice; what is wrong with the words is the library's to say.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from flask_wtf import FlaskForm
from werkzeug.datastructures import MultiDict
from wtforms import BooleanField, StringField, TextAreaField

from webapp.dosing.own_movements import ARCS, TEMPOS
from webapp.dosing.settings import Bound
from webapp.library.faults import FileFault
from webapp.library.movement import Movement
from webapp.practice.forms.entries import at_most, needed, put_beside, trimmed
from webapp.practice.forms.fields import NumberField

LONGEST_KEY = 60
FIELD_OF = {"start": "cue_start", "up": "cue_up", "down": "cue_down"}
"""The form's entry for a key of the library, where the two differ."""


class MovementForm(FlaskForm):
    """The words of an own movement. `movement_form` builds it, with its arc and its times."""

    key = StringField(validators=[needed, at_most(LONGEST_KEY)])
    based_on = StringField()
    name = StringField(validators=[needed], filters=[trimmed])
    how = TextAreaField(validators=[needed], filters=[trimmed])
    mistakes = TextAreaField(filters=[trimmed])
    cue_start = StringField(validators=[needed], filters=[trimmed])
    cue_up = StringField(validators=[needed], filters=[trimmed])
    cue_down = StringField(validators=[needed], filters=[trimmed])
    purpose = TextAreaField(validators=[needed], filters=[trimmed])
    leave_out = TextAreaField(filters=[trimmed])
    cautions_read = BooleanField(validators=[needed])


def bounds_of(shipped: Movement, bounds: Mapping[str, Bound]) -> tuple[dict[str, Bound], dict[str, Bound]]:
    """Return the bounds of the arc and of the times, the latter as narrow as the practice's, by name."""
    return dict(ARCS[shipped.id]), {name: bounds[name] for name in TEMPOS[shipped.kind]}


def movement_form(
    shipped: Movement, bounds: Mapping[str, Bound], entries: Mapping[str, Any], drafted: MultiDict[str, str] | None
) -> MovementForm:
    """Build the form.

    Args:
        shipped: The movement whose kind, direction and drawing the own one has.
        bounds: The bounds of the practice, by name.
        entries: The first values of the fields; a form that was sent has the sent values.
        drafted: The entries of a draft, which count as if they had been sent; None for none.
    """
    arc, tempo = bounds_of(shipped, bounds)
    fields = {name: NumberField(bound, validators=[needed]) for name, bound in (arc | tempo).items()}
    built = type("MovementForm", (MovementForm,), fields)
    form: MovementForm = built(data=entries) if drafted is None else built(drafted, data=entries)
    return form


def entries_of(movement: Mapping[str, Any]) -> dict[str, Any]:
    """Turn a stored mapping into the first values of the form's fields."""
    cues = {FIELD_OF[name]: text for name, text in movement["cues"].items()}
    texts = {name: movement.get(name, "") for name in ("name", "purpose", "leave_out")}
    lines = {name: "\n".join(movement[name]) for name in ("how", "mistakes")}
    return {**texts, **lines, **cues, **movement["arc"], **movement["tempo"]}


def _lines(text: str | None) -> list[str]:
    return [line.strip() for line in (text or "").splitlines() if line.strip()]


def content_of(form: MovementForm, shipped: Movement) -> dict[str, Any]:
    """Turn a form without faults of its own into the mapping that is stored."""
    own = {"leave_out": form.leave_out.data} if form.leave_out.data else {}
    return {
        "like": shipped.id,
        "name": form.name.data,
        "how": _lines(form.how.data),
        "mistakes": _lines(form.mistakes.data),
        "purpose": form.purpose.data,
        **own,
        "cues": {name: form[field].data for name, field in FIELD_OF.items()},
        "arc": {name: form[name].data for name in ARCS[shipped.id]},
        "tempo": {name: form[name].data for name in TEMPOS[shipped.kind]},
    }


def put_faults(form: MovementForm, faults: Sequence[FileFault]) -> None:
    """Put the library's faults beside the entries that they concern."""
    put_beside(form, faults, FIELD_OF)

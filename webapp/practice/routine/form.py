"""The form of the routine desk: every part of a routine and of the client's settings that may be changed.

The bounds come from the core, the movements from the library. The form takes and returns a routine as the mapping
that a routine file holds.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any, NamedTuple

from flask_wtf import FlaskForm
from werkzeug.datastructures import MultiDict
from wtforms import BooleanField, StringField, TextAreaField

from webapp.dosing.settings import ARMS, BOUNDS, DIRECTIONS, Bound, Tempo, Tuning, WarmUp
from webapp.library.habits import the_habits
from webapp.practice.forms.entries import LONGEST_NOTE, at_most, needed, start_field, trimmed
from webapp.practice.forms.fields import (
    NumberField,
    OneOfField,
    TicksField,
    WeightsField,
)
from webapp.practice.forms.quantities import KILOGRAMS_OF, Quantity
from webapp.practice.routine.own import OwnChoices
from webapp.sync.case.correcting import OF_THE_DOSE

LONGEST_TITLE = 80
TUNING = tuple(name for name in Tuning.__dataclass_fields__ if name in BOUNDS)
TEMPO = tuple(Tempo.__dataclass_fields__)
DIRECTION_FIELDS = tuple(f"direction_{number}" for number in range(1, len(DIRECTIONS) + 1))


def _number(bound: Bound) -> NumberField:
    return NumberField(bound, validators=[needed])


class RoutineForm(FlaskForm):
    """A routine, the client's settings, and a note. `routine_form` builds it, with some more fields.

    `own` is set by the page: the own movements that are offered.
    """

    own: OwnChoices
    based_on = StringField()
    title = StringField(validators=[needed, at_most(LONGEST_TITLE)], filters=[trimmed])
    area = StringField(validators=[needed])
    note = TextAreaField(validators=[at_most(LONGEST_NOTE)], filters=[trimmed])
    stretches = TicksField(choices=[])
    weights_unit = OneOfField(tuple(KILOGRAMS_OF), default="kg")
    weights = WeightsField()
    usual = NumberField(BOUNDS["usual"], validators=[needed])
    clinician_seen = BooleanField()
    habit_seen = StringField()
    accepted_jumps = TicksField(choices=[], validate_choice=False)
    rises_taken_on = TicksField(choices=ARMS)

    def offered_warm_ups(self) -> list[str]:
        """List the warm-ups that the form offers, in order."""
        return [value for value, *_ in self["warm_ups"].iter_choices()]


class OfferedMovements(NamedTuple):
    """The values of the movements that the form offers, each kind in the order of the form."""

    lifts: Sequence[str]
    warm_ups: Sequence[str]
    stretches: Sequence[str]


def routine_form(
    offered: OfferedMovements,
    arms: Sequence[str],
    bounds: Mapping[str, Bound],
    entries: Mapping[str, Any],
    drafted: MultiDict[str, str] | None = None,
) -> RoutineForm:
    """Build the form with a field for each warm-up, stretch and arm.

    Args:
        offered: The movements, the own ones too.
        arms: The client's arms.
        bounds: The bounds of the practice, by name.
        entries: The first values of the fields; a form that was sent has the sent values.
        drafted: The entries of a draft, which count as if they had been sent; None for none.
    """
    fields: dict[str, Any] = {name: _number(bounds[name]) for name in (*TUNING, *TEMPO)}
    fields |= {field: OneOfField(tuple(offered.lifts), validators=[needed]) for field in DIRECTION_FIELDS}
    fields |= {start_field(arm): NumberField(BOUNDS["start_rung"]) for arm in arms}
    fields["habit"] = OneOfField(tuple(the_habits()))
    fields["warm_ups"] = TicksField(choices=list(offered.warm_ups))
    for movement in offered.warm_ups:
        fields[f"{movement}_reps"] = _number(bounds["reps"])
        fields[f"{movement}_seconds_each"] = _number(bounds["seconds_each"])
    built = type("RoutineForm", (RoutineForm,), fields)
    form: RoutineForm = built(data=entries) if drafted is None else built(drafted, data=entries)
    form.stretches.choices = list(offered.stretches)
    return form


def completed(routine: Mapping[str, Any]) -> dict[str, Any]:
    """Return a routine with all numbers of its tuning, tempo and warm-ups; missing numbers get the core's defaults."""
    tuning = asdict(Tuning()) | dict(routine.get("tuning", {}))
    tempo = asdict(Tempo()) | dict(routine.get("tempo", {}))
    warm_ups = [asdict(WarmUp(**each)) for each in routine.get("warm_ups", ())]
    return {**routine, "tuning": tuning, "tempo": tempo, "warm_ups": warm_ups}


def entries_of(
    routine: Mapping[str, Any], settings: Mapping[str, Any], warm_ups: Sequence[str], own: OwnChoices
) -> dict[str, Any]:
    """Turn a completed routine and its settings into the first values of the form's fields."""
    chosen = {each["movement"]: each for each in routine["warm_ups"]}
    entries: dict[str, Any] = {"title": routine["title"], "area": routine["area"], "usual": settings["usual"]}
    entries["clinician_seen"] = settings.get("clinician_seen", False)
    entries |= routine["tuning"] | routine["tempo"]
    lifts = [own.value_in(routine, movement) for movement in routine["directions"]]
    entries |= dict(zip(DIRECTION_FIELDS, lifts, strict=False))
    entries |= {"warm_ups": list(chosen), "stretches": list(routine["stretches"])}
    for movement in warm_ups:
        warm_up = chosen.get(movement) or asdict(WarmUp(movement)) | own.tempo_of(movement)
        entries |= {f"{movement}_{name}": warm_up[name] for name in ("reps", "seconds_each")}
    entries["weights"] = [Quantity(each["value"], each["unit"]) for each in settings["weights"]]
    entries["weights_unit"] = next((each.unit for each in entries["weights"] if each.value), "kg")
    entries["accepted_jumps"] = [str(kg) for kg in routine["tuning"]["accepted_jumps_kg"]]
    return entries


def routine_of(form: RoutineForm) -> dict[str, Any]:
    """Turn a valid form into the mapping that a routine file holds, with a copy of each own movement that is chosen."""
    lifts = [form[field].data for field in DIRECTION_FIELDS]
    stretches = [each for each, *_ in form.stretches.iter_choices() if each in (form.stretches.data or [])]
    warm_ups = [each for each in form.offered_warm_ups() if each in (form["warm_ups"].data or [])]
    tuning: dict[str, Any] = {name: form[name].data for name in TUNING}
    tuning["accepted_jumps_kg"] = _accepted(form)
    return {
        "title": form.title.data,
        "area": form.area.data,
        "directions": [form.own.slot_of(each) for each in lifts],
        "stretches": stretches,
        "warm_ups": [
            {
                "movement": each,
                "reps": form[f"{each}_reps"].data,
                "seconds_each": form[f"{each}_seconds_each"].data,
            }
            for each in warm_ups
        ],
        "tuning": tuning,
        "tempo": {name: form[name].data for name in TEMPO},
        **form.own.chosen([*lifts, *warm_ups, *stretches]),
    }


def _accepted(form: RoutineForm) -> list[float]:
    weights = {str(each.kilograms): each.kilograms for each in form.weights.data}
    return [weights[text] for text in form.accepted_jumps.data or [] if text in weights]


def settings_of(form: RoutineForm, before: Mapping[str, Any]) -> dict[str, Any]:
    """Turn a valid form into a version's settings; body and arms are kept from `before`.

    An arm without a chosen rung stays where it is. In a first version, such an arm begins on the rung for its usual pain.
    """
    weights: list[Quantity] = form.weights.data
    return {
        **{name: before[name] for name in OF_THE_DOSE},
        "weights": [{"value": each.value, "unit": each.unit} for each in weights],
        "weights_kg": [each.kilograms for each in weights],
        "usual": form.usual.data,
        "clinician_seen": form.clinician_seen.data,
        "start_rungs": {arm: form[start_field(arm)].data for arm in before["arms"] if form[start_field(arm)].data},
    }

"""The form of the practice's settings: name, zone, how the house is reached, and the tunings of its routines.

Each tuning has three entries: what a new client begins with, the least and the greatest value that a routine may have.
An empty entry leaves it to the rules.
"""

from dataclasses import asdict
from hashlib import sha256
from typing import Any
from zoneinfo import available_timezones

from flask_wtf import FlaskForm
from wtforms import Field, StringField
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault, faults_of_routine, number_fault
from webapp.dosing.settings import BOUNDS, Routine, Tuning
from webapp.practice.forms import reach
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.practice.forms.fields import NumberField
from webapp.records.practices import Practice

TUNINGS = tuple(name for name in Tuning.__dataclass_fields__ if name in BOUNDS)
COLUMNS = ("begin", "least", "most")


class SettingsForm(FlaskForm):
    """The settings of a practice. `settings_form` builds it, with three numbers for each tuning.

    `seen` is a hash of the settings that the page showed. If they were changed by then, the owner must look again.
    """

    house = StringField(validators=[needed, at_most(reach.LONGEST_NAME)], filters=[trimmed])
    zone = StringField(validators=[needed], filters=[trimmed])
    telephone = StringField(validators=[reach.telephone], filters=[trimmed])
    hours = StringField(validators=[at_most(reach.LONGEST_LINE)], filters=[trimmed])
    seen = StringField()

    def validate_zone(self, field: Field) -> None:
        """Refuse a name that is no time zone."""
        if field.data not in available_timezones():
            raise StopValidation(Fault("no_zone", "zone", field.data))

    def judge(self, before: Practice) -> bool:
        """Check the entries, also against each other and against the settings that are stored now."""
        if not self.validate():
            return False
        for name, fault in [*self._crossed(), *self._outside()]:
            self[name].errors = [*self[name].errors, fault]
        if not self.errors and self.seen.data != seal(before):
            self.form_errors = [Fault("settings_moved", "seen", "")]
        return not self.errors

    def chosen(self, before: Practice) -> Practice:
        """Return the practice as it was entered in a valid form."""
        firsts = {name: self[f"begin_{name}"].data for name in TUNINGS}
        tunings = {name: value for name, value in firsts.items() if value is not None}
        bounds = {name: self._range(name) for name in TUNINGS if self._range(name) != BOUNDS[name][:2]}
        house, zone, telephone, hours = (
            str(field.data) for field in (self.house, self.zone, self.telephone, self.hours)
        )
        return Practice(before.id, house, zone, telephone, hours, tunings, bounds)

    def _range(self, name: str) -> tuple[float, float]:
        least, most = self[f"least_{name}"].data, self[f"most_{name}"].data
        bound = BOUNDS[name]
        return (bound.low if least is None else least, bound.high if most is None else most)

    def _crossed(self) -> list[tuple[str, Fault]]:
        """Find bounds of which the least is above the greatest."""
        ranges = {name: self._range(name) for name in TUNINGS}
        return [
            (f"most_{name}", Fault("under_least", name, high, (low,)))
            for name, (low, high) in ranges.items()
            if low > high
        ]

    def _outside(self) -> list[tuple[str, Fault]]:
        """Find first values outside the practice's own bounds, and what the core refuses of them together."""
        typed = {name: self[f"begin_{name}"].data for name in TUNINGS if self[f"begin_{name}"].data is not None}
        narrowed = {
            name: BOUNDS[name]._replace(low=low, high=high) for name in typed for low, high in [self._range(name)]
        }
        found = [number_fault(name, value, narrowed[name]) for name, value in typed.items()]
        together = faults_of_routine(Routine("", "", Tuning(**typed)))
        faults = [fault for fault in found if fault] or [fault for fault in together if fault.field in TUNINGS]
        return [(f"begin_{fault.field}", fault) for fault in faults]


def settings_form(practice: Practice) -> SettingsForm:
    """Build the form, filled with a practice as it is stored."""
    fields = {f"{column}_{name}": NumberField(BOUNDS[name]) for name in TUNINGS for column in COLUMNS}
    form: SettingsForm = type("SettingsForm", (SettingsForm,), fields)(data=_entries(practice))
    return form


def seal(practice: Practice) -> str:
    """Return a hash of a practice's settings."""
    return sha256(repr(asdict(practice)).encode()).hexdigest()[:16]


def _entries(practice: Practice) -> dict[str, Any]:
    entries: dict[str, Any] = {"house": practice.name, "seen": seal(practice)}
    entries |= {name: getattr(practice, name) for name in ("zone", "telephone", "hours")}
    entries |= {f"begin_{name}": value for name, value in (practice.tunings or {}).items()}
    for name, (low, high) in (practice.bounds or {}).items():
        entries |= {f"least_{name}": low, f"most_{name}": high}
    return entries

"""Form fields that report a fault: the typed value, the rule, the range, the unit.

Labels and sentences are in the templates. A field knows only its name and its rule.
"""

from collections.abc import Sequence
from datetime import date
from typing import Any

from wtforms import Field, Form, SelectMultipleField, StringField
from wtforms.validators import StopValidation
from wtforms.widgets import CheckboxInput, ListWidget, TextInput

from webapp.dosing.faults import Fault, number_fault
from webapp.dosing.settings import Bound
from webapp.practice.forms.quantities import (
    KILOGRAMS_OF,
    read_number,
    read_quantity,
    read_weights,
    write_number,
    write_weights,
)


class NumberField(Field):
    """A number within a bound, typed with a decimal point or a decimal comma."""

    widget = TextInput()

    def __init__(self, bound: Bound, **rest: Any) -> None:
        self.bound = bound
        super().__init__("", **rest)

    def _value(self) -> str:
        if self.raw_data:
            return str(self.raw_data[0])
        return "" if self.data is None else write_number(self.data)

    def process_formdata(self, valuelist: list[str]) -> None:
        """Read the typed text; `data` stays None if the text is not a number within the bound."""
        text = valuelist[0].strip() if valuelist else ""
        self.data = None
        if not text:
            return
        number = self.read(text)
        fault = number_fault(self.short_name, text if number is None else number, self.bound)
        if fault:
            raise ValueError(fault._replace(value=text, rule=self.rule_in_unit(fault)))
        self.data = int(number) if self.bound.whole and number is not None else number

    def read(self, text: str) -> float | None:
        """Return the number in the bound's unit, or None if the text is not a number."""
        return read_number(text)

    def rule_in_unit(self, fault: Fault) -> tuple[object, ...]:
        """Return the rule that the sentence of the fault names: low, high, unit."""
        return fault.rule


class DayField(Field):
    """A day, typed as YYYY-MM-DD. The page sets the bounds `earliest` and `latest`."""

    widget = TextInput()
    earliest, latest = date.min, date.max
    data: date | None

    def _value(self) -> str:
        if self.raw_data:
            return str(self.raw_data[0])
        return "" if self.data is None else self.data.isoformat()

    def process_formdata(self, valuelist: list[str]) -> None:
        """Keep the typed text. The bounds may not be set yet, so `pre_validate` reads the text."""
        self.text = valuelist[0].strip() if valuelist else ""
        try:
            self.data = date.fromisoformat(self.text)
        except ValueError:
            self.data = None

    def pre_validate(self, form: Form) -> None:  # noqa: ARG002 - the library's own shape
        """Refuse a text that is not a day within the bounds; `needed` decides about an empty text."""
        if self.raw_data and self.text and not (self.data and self.earliest <= self.data <= self.latest):
            raise StopValidation(Fault("not_a_day", self.short_name, self.text, (self.earliest, self.latest)))


class MeasureField(NumberField):
    """A number with one of several units; `data` is in the bound's unit."""

    def __init__(self, bound: Bound, units: dict[str, float], **rest: Any) -> None:
        self.units = units
        super().__init__(bound, **rest)

    def _value(self) -> str:
        if self.raw_data or self.data is None:
            return super()._value()
        first = next(iter(self.units))
        return write_number(self.data / self.units[first])

    def read(self, text: str) -> float | None:
        """Return the number in the bound's unit, from a text such as '172', '172 cm' or '1.72 m'; None if it is not one."""
        quantity = read_quantity(text, tuple(self.units))
        return None if quantity is None else round(quantity.value * self.units[quantity.unit], 6)

    def rule_in_unit(self, fault: Fault) -> tuple[object, ...]:  # noqa: ARG002 - as the field above has it
        """Return the bound's low and high end in the first unit, and that unit."""
        unit, factor = next(iter(self.units.items()))
        return (self.bound.low / factor, self.bound.high / factor, unit)


class WeightsField(Field):
    """A list of the weights at home; `data` is a list of quantities and includes the bare hand (0)."""

    widget = TextInput()
    text = ""

    def _value(self) -> str:
        return str(self.raw_data[0]) if self.raw_data else write_weights(self.data or [])

    def process_formdata(self, valuelist: list[str]) -> None:
        """Keep the typed text. The unit for bare numbers is another field, so `pre_validate` reads the text."""
        self.text = valuelist[0] if valuelist else ""

    def pre_validate(self, form: Form) -> None:
        """Read the list with the form's `weights_unit`, and report every fault in it.

        An unknown unit is a fault of the unit's own field; the list is then read in kg.
        """
        unit = form.weights_unit.data
        self.data, faults = read_weights(self.text, unit if unit in KILOGRAMS_OF else "kg")
        self.errors = list(faults)
        if faults:
            raise StopValidation


class TicksField(SelectMultipleField):
    """A group of tick boxes; any number of them may be ticked."""

    widget = ListWidget(prefix_label=False)
    option_widget = CheckboxInput()

    def pre_validate(self, form: Form) -> None:  # noqa: ARG002 - the library's own shape
        """Refuse a value that is not among the choices."""
        offered = {value for value, *_ in self.iter_choices()}
        for value in self.data or () if self.validate_choice else ():
            if value not in offered:
                raise StopValidation(Fault("not_one_of", self.short_name, value, tuple(sorted(offered))))


class OneOfField(StringField):
    """A choice of exactly one value from a few."""

    def __init__(self, offered: Sequence[str] = (), **rest: Any) -> None:
        self.offered = tuple(offered)
        super().__init__("", **rest)

    def pre_validate(self, form: Form) -> None:  # noqa: ARG002 - as above
        """Refuse a value that is not offered; `needed` decides about an empty value."""
        if self.data and self.data not in self.offered:
            raise StopValidation(Fault("not_one_of", self.short_name, self.data, self.offered))

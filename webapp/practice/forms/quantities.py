"""Numbers and weights as people type them: with a decimal point or comma, with or without a unit."""

import re
import unicodedata
from dataclasses import dataclass

from webapp.dosing.faults import Fault, number_fault
from webapp.dosing.figures import POUND
from webapp.dosing.settings import BOUNDS

KILOGRAMS_OF = {"kg": 1.0, "lb": POUND.value}
METRES_OF = {"cm": 0.01, "m": 1.0}
_UNIT_WORDS = {"kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "lb": "lb", "lbs": "lb", "cm": "cm", "m": "m"}
_QUANTITY = re.compile(r"^(?P<number>[\d.,\s]*[¼½¾⅓⅔⅛]?)\s*(?P<unit>[^\W\d_]*)\.?$")
# A comma inside a number is a decimal comma. A comma with a space after it separates the entries of a list.
_BETWEEN_WEIGHTS = re.compile(r";|\n|,\s+|,$")
_MOST_GRAM_PLACES = 4


@dataclass(frozen=True)
class Quantity:
    """A number with its unit, as it was entered."""

    value: float
    unit: str

    @property
    def kilograms(self) -> float:
        """The weight in kg, rounded to a tenth of a gram, so that equal weights compare equal."""
        return round(self.value * KILOGRAMS_OF[self.unit], _MOST_GRAM_PLACES)


def read_number(text: str) -> float | None:
    """Read '1.5', '1,5', '½' or '1½'; None for anything else."""
    whole = text.strip().replace(",", ".").replace(" ", "")
    part = 0.0
    if whole and whole[-1] in "¼½¾⅓⅔⅛":
        part, whole = unicodedata.numeric(whole[-1]), whole[:-1] or "0"
    try:
        return float(whole) + part if re.fullmatch(r"\d+(\.\d*)?|\.\d+", whole) else None
    except ValueError:
        return None


def read_quantity(text: str, units: tuple[str, ...]) -> Quantity | None:
    """Read a number that may have one of `units` after it; a number without a unit is in the first of `units`."""
    match = _QUANTITY.match(text.strip())
    number = read_number(match["number"]) if match else None
    if match is None or number is None:
        return None
    unit = _UNIT_WORDS.get(match["unit"].lower(), "") if match["unit"] else units[0]
    return Quantity(number, unit) if unit in units else None


def read_weights(text: str, unit: str) -> tuple[list[Quantity], list[Fault]]:
    """Read a list of weights, such as '½ kg; 1 kg' or '1, 2, 3'.

    Args:
        text: Entries, separated by a semicolon, a line break, or a comma with a space after it.
        unit: 'kg' or 'lb', for entries without a unit.

    Returns:
        The weights, the lightest first, with the bare hand (0); and the faults.
    """
    units = (unit, *(other for other in KILOGRAMS_OF if other != unit))
    found: dict[float, Quantity] = {0.0: Quantity(0, unit)}
    faults = []
    for entry in filter(None, (part.strip() for part in _BETWEEN_WEIGHTS.split(text))):
        weight = read_quantity(entry, units)
        fault = _weight_fault(entry, weight)
        if weight is None or fault:
            faults.append(fault)
        else:
            found.setdefault(weight.kilograms, weight)
    return [found[kilograms] for kilograms in sorted(found)], [fault for fault in faults if fault]


def _weight_fault(entry: str, weight: Quantity | None) -> Fault | None:
    bound = BOUNDS["weight_kg"]
    if weight is None:
        return Fault("not_a_weight", "weights", entry, (bound.low, bound.high, bound.unit))
    fault = number_fault("weights", weight.kilograms, bound)
    return fault and fault._replace(value=entry)


def write_number(number: float) -> str:
    """Write a number for an entry field: a decimal point, no exponent, no zeros at the end."""
    return f"{number:.6f}".rstrip("0").rstrip(".")


def write_weights(weights: list[Quantity]) -> str:
    """Write weights in the form that `read_weights` reads, without the bare hand."""
    return "; ".join(f"{write_number(each.value)} {each.unit}" for each in weights if each.value)

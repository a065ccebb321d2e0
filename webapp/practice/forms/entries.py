"""Entries and checks that several forms share: a plain button, the rung of an arm, and what every entry is held to.

Every form carries a token of its own session; one without it is shown again, with nothing lost.
"""

from collections.abc import Callable, Mapping, Sequence

from flask_wtf import FlaskForm
from wtforms import Field, Form
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS
from webapp.library.faults import FileFault

LONGEST_NAME = 80
LONGEST_NOTE = 600

Check = Callable[[Form, Field], None]


class ButtonForm(FlaskForm):
    """A single button; nothing to type."""


def start_field(arm: str) -> str:
    """Return the name of the field that takes the rung of an arm, of the intake and of the routine desk."""
    return f"start_rung_{arm}"


START_FIELDS = {arm: start_field(arm) for arm in ARMS}


def needed(_form: Form, field: Field) -> None:
    """Refuse an entry left empty."""
    if field.errors:
        raise StopValidation
    if field.data is None or field.data in ("", [], False):
        field.errors = []
        raise StopValidation(Fault("missing", field.short_name, ""))


def at_most(letters: int) -> Check:
    """Refuse a text longer than `letters` characters."""

    def check(_form: Form, field: Field) -> None:
        if field.data and len(field.data) > letters:
            raise StopValidation(Fault("too_long", field.short_name, len(field.data), (letters,)))

    return check


def trimmed(text: str | None) -> str:
    """Drop the spaces around a text."""
    return (text or "").strip()


def put_beside(form: Form, faults: Sequence[FileFault], names: Mapping[str, str]) -> None:
    """Put what the library found in the whole beside the entries it is about.

    Args:
        form: Whose entries.
        faults: With keys such as `tuning.rise`.
        names: The entry for each key that is called otherwise here.
    """
    for fault in faults:
        key = fault.key.rpartition(".")[2]
        field = form[names.get(key, key)]
        field.errors = [*field.errors, Fault(fault.code, field.short_name, fault.value, fault.rule)]

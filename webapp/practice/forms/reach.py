"""Checks of what a practitioner says of how they are reached. May know the records' shape; stores nothing."""

import re

from wtforms import Field, Form
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault

LONGEST_NAME = 80
LONGEST_LINE = 80
LONGEST_EMAIL = 254
# Brackets are refused: in "+44 (0)20 ..." the bracket's digit must not be dialled, and a phone dials it.
_TELEPHONE = re.compile(r"\+?[0-9](?:[ .-]?[0-9]){2,19}")
_EMAIL = re.compile(r"[^@\s]+@[^@\s]+")


def is_telephone(text: str) -> bool:
    """Whether a text can be dialled as it stands: 3 to 20 digits, one space, dot or hyphen between two, a + before them."""
    return bool(_TELEPHONE.fullmatch(text))


def is_email(text: str) -> bool:
    """Whether a text is an e-mail address: one @ with something on both sides, and no space."""
    return len(text) <= LONGEST_EMAIL and bool(_EMAIL.fullmatch(text))


def telephone(_form: Form, field: Field) -> None:
    """Refuse a number that cannot be dialled; no number is fine."""
    if field.data and not is_telephone(field.data):
        raise StopValidation(Fault("not_a_telephone", field.short_name, field.data))


def email(_form: Form, field: Field) -> None:
    """Refuse what is no e-mail address; no address is fine."""
    if field.data and not is_email(field.data):
        raise StopValidation(Fault("not_an_email", field.short_name, field.data))

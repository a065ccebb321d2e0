"""What the printed slip of an invitation says, in the client's language. Makes no invitation."""

from datetime import date, datetime
from typing import NamedTuple

from webapp.words.catalogue import Words, mark
from webapp.words.days import day_text, instant_text

ASKS = mark("%(name)s asks you to try a routine.")
BY_LINK = mark("Point the camera of the phone that you will exercise with at the square, or type the address.")
BY_CODE = mark("On the phone that you will exercise with, open the address and type the code.")
UNTIL = mark("It works once, until %(when)s.")
UNTIL_DAY = mark("It works until the end of %(day)s.")
NO_CURE = mark("It does not examine you and promises no cure. If you are unsure, be seen first.")


class PaperSlip(NamedTuple):
    """The sentences of a slip: who asks, what to do, until when, and what it is not."""

    asks: str
    to_do: str
    until: str
    no_cure: str


def paper_slip(words: Words, name: str, expires_at: datetime, zone: str, *, is_code: bool) -> PaperSlip:
    """Return what a slip says.

    Args:
        words: The catalogue of the client's language.
        name: The practitioner's name.
        expires_at: The instant at which the invitation ends.
        zone: The time zone of the written instant.
        is_code: Whether it is a code to type, and not a link.
    """
    until = words.say(UNTIL, when=instant_text(words, expires_at, zone))
    return PaperSlip(words.say(ASKS, name=name), words.say(BY_CODE if is_code else BY_LINK), until, words.say(NO_CURE))


def group_slip(words: Words, name: str, last_day: date) -> PaperSlip:
    """Return what the slip of a group says; `last_day` is the last day on which somebody may join, otherwise as `paper_slip`."""
    until = words.say(UNTIL_DAY, day=day_text(words, last_day))
    return PaperSlip(words.say(ASKS, name=name), words.say(BY_LINK), until, words.say(NO_CURE))

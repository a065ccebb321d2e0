"""An offer of the review in words: what is offered, what it would have made of the last days, and why, for the client.

May know the offer's numbers and the core's classes of a day; decides nothing.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from webapp.dosing.offers import CEILING, USUAL, Offer
from webapp.dosing.responses import SHOWN
from webapp.words.accounts import class_word
from webapp.words.catalogue import Words, mark

OFFERED = {
    USUAL: mark("Offer: usual morning pain %(value)s of 10, now %(now)s"),
    CEILING: mark("Offer: sessions count as settled up to %(value)s of 10, now %(now)s"),
}
RESULT = mark("Settled in the last %(of)s days: %(was)s as it was, %(would_be)s with %(value)s instead of %(now)s.")
BUTTONS = {USUAL: mark("Push it with a usual of %(value)s"), CEILING: mark("Push it with a ceiling of %(value)s")}
NOTHING_DIFFERS = mark(
    "None of the last %(of)s days would have been classed otherwise with %(value)s instead of %(now)s. "
    "A worse morning would be noticed sooner."
)
REASONS = {
    (USUAL, True): mark(
        "We now take a morning of %(value)s of 10 as usual for you: your mornings have been steady, and the arm did not "
        "flare. The dose stays where it is; good days can count again."
    ),
    (USUAL, False): mark(
        "Your mornings are better than when we began, so we now take %(value)s of 10 as usual for you. "
        "A worse morning is then noticed sooner."
    ),
    (CEILING, True): mark(
        "Up to %(value)s of 10 in a session now counts as a good day for you, because your mornings after it were no "
        "worse. The dose stays where it is. Stop for sharp pain as before."
    ),
}
"""What the client reads, by the setting and whether it goes up; a draft that the practitioner may change."""
LETTERS = {
    "settled": mark("s"),
    "partly": mark("p"),
    "unreported": mark("u"),
    "aching": mark("a"),
    "tender": mark("t"),
    "sore": mark("o"),
    "flared": mark("f"),
    "sharp": mark("x"),
    "missed": mark("–"),
}


class Lettered(NamedTuple):
    """One class of a day: a letter for the row, and the word that the letter stands for."""

    letter: str
    word: str


class LetteredDay(NamedTuple):
    """One day of an offer: its class as it was, and as it would have been."""

    on: date
    was: Lettered
    would_be: Lettered


def _gaps(offer: Offer) -> dict[str, int]:
    return {
        "now": offer.now,
        "value": offer.value,
        "of": len(offer.days),
        "was": offer.settled_was,
        "would_be": offer.settled_would_be,
    }


def offer_text(words: Words, offer: Offer) -> str:
    """Say what is offered."""
    return words.say(OFFERED[offer.lever], **_gaps(offer))


def result_text(words: Words, offer: Offer) -> str:
    """Say how many of the last days were settled and how many would have been, or that no class would differ."""
    return words.say(RESULT if offer.differs else NOTHING_DIFFERS, **_gaps(offer))


def button_text(words: Words, offer: Offer) -> str:
    """Say what the button does."""
    return words.say(BUTTONS[offer.lever], **_gaps(offer))


def draft_text(words: Words, offer: Offer) -> str:
    """Say to the client why the value is changed; a draft for the practitioner."""
    return words.say(REASONS[offer.lever, offer.value > offer.now], **_gaps(offer))


def _lettered(words: Words, response: str) -> Lettered:
    return Lettered(words.say(LETTERS[SHOWN[response]]), class_word(words, response).lower())


def lettered_days(words: Words, offer: Offer) -> list[LetteredDay]:
    """Return the days of an offer as letters with their words, the oldest first."""
    return [LetteredDay(day.on, _lettered(words, day.was), _lettered(words, day.would_be)) for day in offer.days]


def legend(days: Sequence[LetteredDay]) -> list[Lettered]:
    """Return what each letter of some days stands for, each letter once."""
    return list(dict.fromkeys(each for day in days for each in (day.was, day.would_be)))

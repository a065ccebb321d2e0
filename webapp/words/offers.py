"""An offer of the review in words: the value, how the last days would have been classed, and a reason for the client.

May know the offer's numbers and the core's classes of a day; decides nothing.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from webapp.dosing.offers import CEILING, USUAL, Offer
from webapp.dosing.responses import SHOWN
from webapp.words.catalogue import Words, mark
from webapp.words.closed_days import class_word

OFFERED = {
    USUAL: mark("Offer: usual morning pain %(value)s of 10, now %(now)s"),
    CEILING: mark("Offer: sessions count as settled up to %(value)s of 10, now %(now)s"),
}
RESULT = mark("Settled in the last %(of)s days: %(was)s as it was, %(would_be)s with %(value)s instead of %(now)s.")
BUTTONS = {USUAL: mark("Push it with a usual of %(value)s"), CEILING: mark("Push it with a ceiling of %(value)s")}
NOTHING_DIFFERS = mark(
    "None of the last %(of)s days would have another response with %(value)s instead of %(now)s. "
    "A worse morning would be noticed sooner."
)
REASONS = {
    (USUAL, True): mark(
        "We now take a morning of %(value)s of 10 as usual for you: your mornings have been steady, and the arm did not "
        "flare. The dose stays where it is, and good days can count again."
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
"""The draft of the sentence for the client, by setting and by whether the value goes up. The practitioner may edit it."""
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
    """The class of one day: the letter in the row of days, and the word that the letter stands for."""

    letter: str
    word: str


class LetteredDay(NamedTuple):
    """One day of an offer: its class, and the class that it would have under the offered value."""

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
    """Return the sentence of the offer."""
    return words.say(OFFERED[offer.lever], **_gaps(offer))


def result_text(words: Words, offer: Offer) -> str:
    """Return how many of the last days were settled and how many would have been, or that no class would differ."""
    return words.say(RESULT if offer.differs else NOTHING_DIFFERS, **_gaps(offer))


def button_text(words: Words, offer: Offer) -> str:
    """Return the label of the button."""
    return words.say(BUTTONS[offer.lever], **_gaps(offer))


def draft_text(words: Words, offer: Offer) -> str:
    """Return the draft of the sentence that tells the client why the value changes."""
    return words.say(REASONS[offer.lever, offer.value > offer.now], **_gaps(offer))


def _lettered(words: Words, response: str) -> Lettered:
    return Lettered(words.say(LETTERS[SHOWN[response]]), class_word(words, response).lower())


def lettered_days(words: Words, offer: Offer) -> list[LetteredDay]:
    """Return the days of an offer as letters with their words, the oldest first."""
    return [LetteredDay(day.on, _lettered(words, day.was), _lettered(words, day.would_be)) for day in offer.days]


def legend(days: Sequence[LetteredDay]) -> list[Lettered]:
    """Return the letters that occur in some days, each once, with their words."""
    return list(dict.fromkeys(each for day in days for each in (day.was, day.would_be)))

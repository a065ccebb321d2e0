"""Amounts as a person reads them: loads in the unit they were entered in, halves, minutes.

May know units and numbers of a language; nothing of rungs or rules.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from babel.numbers import format_decimal

from webapp.dosing.figures import POUND
from webapp.words.catalogue import Words, mark

KG_OF_UNIT = {"kg": 1.0, "lb": POUND.value}
LOADS = {"kg": mark("%(amount)s kg"), "lb": mark("%(amount)s lb")}
QUARTERS = {0.25: "¼", 0.5: "½", 0.75: "¾"}
SAME_KG = 0.0005
RANGES = {
    1.0: mark("the whole range"),
    0.75: mark("three quarters of the range"),
    0.5: mark("half of the range"),
}


def number_text(words: Words, value: float) -> str:
    """Write a number as a person would: quarters as fractions, else at most two decimals."""
    whole, part = divmod(value, 1)
    if part in QUARTERS:
        return f"{format_decimal(whole, locale=words.cldr) if whole else ''}{QUARTERS[part]}"
    return format_decimal(round(value, 2), locale=words.cldr)


def load_text(words: Words, load_kg: float, weights: Sequence[Mapping[str, Any]] = ()) -> str:
    """Name a load as the client would say it.

    Args:
        words: The language.
        load_kg: The load, kg.
        weights: The weights as entered, each with `value` and `unit` ("kg" or "lb").

    Returns:
        Such as "½ kg", "1 lb" or "no weight". A load that nobody entered is told in kilograms.
    """
    if load_kg < SAME_KG:
        return words.say("no weight")
    for weight in weights:
        if abs(weight["value"] * KG_OF_UNIT[weight["unit"]] - load_kg) < SAME_KG:
            return words.say(LOADS[weight["unit"]], amount=number_text(words, weight["value"]))
    return words.say(LOADS["kg"], amount=number_text(words, load_kg))


def range_text(words: Words, fraction: float) -> str:
    """Name a fraction of the range of movement: 1, ¾ or ½."""
    if fraction in RANGES:
        return words.say(RANGES[fraction])
    return words.say("%(percent)s of 100 of the range", percent=number_text(words, fraction * 100))


def minutes_text(words: Words, minutes: int) -> str:
    """Return a session's length in whole minutes."""
    return words.plural("about %(n)d minute", "about %(n)d minutes", minutes)

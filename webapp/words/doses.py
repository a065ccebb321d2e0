"""A day's dose as lines to read.

May know a dose's parts and the names of movements as given; decides nothing.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.dosing.dose import Dose, DoseSet
from webapp.words.amounts import load_text, minutes_text, range_text
from webapp.words.catalogue import Words, mark

WITHOUT_SETS = {
    "resting": mark("Rest today. No exercises. Use the arm gently for what you must do."),
    "held": mark("No exercises until somebody has looked at this arm and your practitioner has released it."),
}


def _sessions_line(words: Words, dose: Dose, minutes: int) -> str:
    length = minutes_text(words, minutes)
    return words.plural(
        "%(n)d session today, %(length)s.",
        "%(n)d short sessions today, with some hours between them, %(length)s each.",
        dose.sessions,
        length=length,
    )


def set_text(words: Words, dose_set: DoseSet, name: str, weights: Sequence[Mapping[str, Any]] = ()) -> str:
    """Return one set as text: movement, reps, load."""
    load = load_text(words, dose_set.load_kg, weights)
    return words.plural(
        "%(name)s: %(n)d time, %(load)s", "%(name)s: %(n)d times, %(load)s", dose_set.reps, name=name, load=load
    )


def dose_summary(
    words: Words,
    dose: Dose,
    names: Mapping[str, str],
    weights: Sequence[Mapping[str, Any]] = (),
    minutes: int = 0,
) -> tuple[str, ...]:
    """Tell a day's dose.

    Args:
        words: The language.
        dose: Of any mode.
        names: The movements' names in that language, by id.
        weights: The weights as entered (see `load_text`).
        minutes: A session's length.

    Returns:
        Short lines, the most important first.
    """
    if dose.mode in WITHOUT_SETS:
        return (words.say(WITHOUT_SETS[dose.mode]),)
    lines = [_sessions_line(words, dose, minutes)]
    lines += [set_text(words, each, names[each.movement], weights) for each in dose.sets]
    if dose.sets and dose.sets[0].range < 1:
        share = range_text(words, dose.sets[0].range)
        lines.append(words.say("Move through %(share)s only.", share=share))
    return tuple(lines)

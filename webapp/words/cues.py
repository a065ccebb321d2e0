"""What one step of a session says: its name, its cue, its hint.

May know the kinds of steps and the words of a movement as given; knows no timing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.dosing.cue_sheet import Step
from webapp.words.amounts import load_text, range_text
from webapp.words.catalogue import Words, mark

NAMES = {
    "rest": mark("Rest"),
    "prepare": mark("Get ready"),
    "change_arm": mark("Change arms"),
    "done": mark("Done"),
}
CHANGE_ARM = {
    "right": mark("Now the right arm."),
    "left": mark("Now the left arm."),
}


@dataclass(frozen=True)
class Spoken:
    """A movement's words in one language: name, cue at the start, and what to do first."""

    name: str
    start: str
    how: str


@dataclass(frozen=True)
class StepWords:
    """The words of one step: its name, what is said as it starts, and what helps meanwhile."""

    name: str
    cue: str
    hint: str


def _count_text(words: Words, step: Step) -> str:
    return words.plural("%(n)d time", "%(n)d times", step.reps)


def _reps_words(words: Words, step: Step, spoken: Spoken, load: str) -> StepWords:
    cue = words.say("%(name)s: %(count)s, %(load)s.", name=spoken.name, count=_count_text(words, step), load=load)
    hint = spoken.start
    if step.range < 1:
        hint = words.say("%(start)s Only %(share)s.", start=hint, share=range_text(words, step.range))
    return StepWords(spoken.name, cue, hint)


def _next_words(words: Words, step: Step, spoken: Spoken, load: str) -> StepWords:
    cue = words.say("Next: %(name)s.", name=spoken.name)
    if step.load_kg > 0:
        cue = words.say("Next: %(name)s, %(load)s.", name=spoken.name, load=load)
    return StepWords(words.say(NAMES[step.kind]), cue, spoken.how)


def step_words(
    words: Words,
    step: Step,
    spoken: Mapping[str, Spoken],
    weights: Sequence[Mapping[str, Any]] = (),
) -> StepWords:
    """Word one step of a cue sheet.

    Args:
        words: The language.
        step: Any kind but `change_arm`.
        spoken: The movements' words by id.
        weights: The weights as entered (see `load_text`).
    """
    if step.kind == "done" or step.movement is None:
        return StepWords(words.say(NAMES["done"]), words.say("The session is over."), words.say("Well done."))
    about, load = spoken[step.movement], load_text(words, step.load_kg, weights)
    if step.kind in {"prepare", "rest"}:
        return _next_words(words, step, about, load)
    if step.kind == "reps":
        return _reps_words(words, step, about, load)
    if step.kind == "warm_up":
        cue = words.say("%(name)s: %(count)s.", name=about.name, count=_count_text(words, step))
        return StepWords(about.name, cue, about.how)
    seconds = words.plural("%(n)d second", "%(n)d seconds", int(step.seconds))
    return StepWords(about.name, words.say("%(name)s: %(seconds)s.", name=about.name, seconds=seconds), about.start)


def change_arm_words(words: Words, arm: str) -> StepWords:
    """Word the step before an arm's sheet: "right" or "left"."""
    hint = words.say("Put the weight in the other hand and sit as before.")
    return StepWords(words.say(NAMES["change_arm"]), words.say(CHANGE_ARM[arm]), hint)

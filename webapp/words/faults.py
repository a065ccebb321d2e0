"""A fault in a file, a form or an event as a sentence: the field, its value, the rule, what to do.

May know the codes and the operands of the rules; where they came from is the caller's.
"""

from collections.abc import Sequence
from typing import Any, Protocol

from webapp.words.catalogue import Words, mark


class FaultLike(Protocol):
    """The fields that a fault must have: where, which value, which rule."""

    @property
    def file(self) -> str:
        """The file's name, or nothing."""

    @property
    def line(self) -> int | None:
        """Counted from 1, or None."""

    @property
    def key(self) -> str:
        """The field at fault."""

    @property
    def value(self) -> object:
        """What was found, or None."""

    @property
    def code(self) -> str:
        """A key of `RULES`."""

    @property
    def rule(self) -> tuple[object, ...]:
        """The operands of the rule."""


RULES = {
    # a number and its range
    "not_a_number": mark("it must be a number from %(a)s to %(b)s (%(c)s)."),
    "not_whole": mark("it must be a whole number from %(a)s to %(b)s (%(c)s)."),
    "out_of_range": mark("it must lie from %(a)s to %(b)s (%(c)s)."),
    # one value against another
    "low_not_under_goal": mark("it must be under goal_reps, which is %(a)s reps."),
    "rise_too_small": mark(
        "one rep more than %(a)s reps must fit under it: raise it, or raise low_reps, so that the two multiply to 1 or more."
    ),
    "pace_pays": mark(
        "it must be at least %(a)s, which is heavier_days less climb_days; else a worse day leads up sooner."
    ),
    "shortest_over_longest": mark("it must not be over hold_longest_seconds, which is %(a)s seconds."),
    "clinician_unseen": mark(
        "over %(a)s it is allowed only where a clinician has seen the arm: then set clinician_seen to true."
    ),
    # lists and names
    "not_a_direction": mark("it must be one of these: %(all)s."),
    "not_all_four": mark("each of these must stand in it exactly once: %(all)s."),
    "not_one_of": mark("it must be one of these: %(all)s."),
    "not_trained": mark("the arm is not one of those under arms: %(all)s. Leave the rung out, or add the arm."),
    "some_of": mark("it must hold at least one of these, and each at most once: %(all)s."),
    "not_a_movement": mark("it must be the id of a movement of that kind: %(all)s."),
    "not_a_source": mark("it must be a key of sources.toml; add the source there first."),
    "wrong_count": mark("it must hold %(a)s to %(b)s entries."),
    "zero_missing": mark("it must hold 0, for the hand without a weight."),
    "twice": mark("it must hold each entry once."),
    # words of a practice's own
    "too_long": mark("it may have at most %(a)s characters."),
    "line_count": mark("it must hold %(a)s to %(b)s lines."),
    "long_word": mark("it holds a word of more than %(a)s characters; a small screen cannot show it whole."),
    "unprintable": mark("it holds a sign that cannot be shown, or that turns the direction of the text; leave it out."),
    # clients that are brought in
    "not_ours": mark("this is not the form of such a file: %(a)s."),
    "other_format": mark(
        "it must be %(a)s, version %(b)s. A file of a higher version comes from a newer Halfturn. Bring this program up to date first."
    ),
    "not_fitting": mark("it does not fit what is kept here."),
    "not_rising": mark("the version numbers must be from 1 up, each greater than the one before."),
    "not_an_entry": mark("it must be %(a)s."),
    "here_already": mark("a client with this id is here already; nobody is taken in twice."),
    "too_many": mark("there may be at most %(a)s."),
    # the shape of a file
    "cannot_be_read": mark("the file cannot be read; look at the path and at who may read it."),
    "not_utf8": mark("the file must be saved as UTF-8 text."),
    "not_toml": mark("this is not TOML (%(a)s); mend the line and try again."),
    "unknown_key": mark("there is no such key here; these are known: %(all)s."),
    "missing_key": mark("it must be given."),
    "not_a_text": mark("it must be a text in quotation marks, and not empty."),
    "not_a_truth": mark("it must be true or false, without quotation marks."),
    "not_a_list": mark("it must be a list in square brackets."),
    "not_a_table": mark("it must be a table of keys and values."),
    # a diary from paper
    "wrong_columns": mark("the first line must read exactly %(a)s, and may end with one or both of %(b)s."),
    "wrong_cells": mark("the row must have %(a)s cells, with the same sign between them as in the first line."),
    "not_csv": mark("this is no table of cells with commas between: %(a)s."),
    "not_a_day": mark("it must be a day that exists, from %(a)s to %(b)s, written YYYY-MM-DD."),
    "day_in_two_ways": mark(
        "a day written like this can be read in two ways: write it as YYYY-MM-DD, such as 2026-03-09."
    ),
    "not_yes_or_no": mark("it must be yes or no, or empty for no."),
    "during_without_session": mark(
        "a session was rated, but sessions is 0: write 1 in sessions, and 0 in done where nothing of it was done."
    ),
    "done_without_session": mark("it must be 0 or empty where sessions is 0: nothing was done."),
    "not_a_release": mark("it must be a rung from 1 up, such as 9, or a rung with a range, such as 9@0.75 or 9@0.5."),
    "still_to_come": mark("a number of this row is about a day after today, %(a)s."),
    "before_the_routine": mark("there is a session before the first routine counts, %(a)s; leave such rows out."),
    "release_at_the_desk": mark(
        "a table cannot end a hold; leave the column empty and release the arm on the case page."
    ),
    "too_many_days": mark("it may hold at most %(a)s days; bring it in parts."),
    "table_empty": mark("it holds nothing. Choose the file of the diary."),
    "table_too_long": mark("it may have at most %(a)s characters; bring it in parts."),
    "second_row": mark("the %(a)s arm already has a row for this day, in line %(b)s; keep one of the two."),
}


def _told(value: object) -> str:
    if isinstance(value, str):
        return f"“{value}”"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(_told, value))}]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


def rule_text(words: Words, code: str, rule: Sequence[object]) -> str:
    """Return the sentence that says what must hold, from a fault's code and its operands."""
    gaps: dict[str, Any] = dict(zip("abc", map(_told_bare, rule), strict=False))
    gaps["all"] = ", ".join(str(entry) for entry in rule if entry is not None)
    return words.say(RULES[code], **gaps)


def _told_bare(value: object) -> str:
    return value if isinstance(value, str) else _told(value)


def fault_text(words: Words, fault: FaultLike) -> str:
    """Return one fault as a sentence: file and line where there are any, field, value, rule."""
    must = rule_text(words, fault.code, fault.rule)
    location = _place_text(words, fault)
    if fault.value is None:
        thing = fault.key
    else:
        thing = words.say("%(key)s is %(value)s", key=fault.key, value=_told(fault.value))
    return ": ".join(part for part in (location, thing, must) if part)


def _place_text(words: Words, fault: FaultLike) -> str:
    if fault.line is None:
        return fault.file
    return words.say("%(file)s, line %(line)s", file=fault.file, line=fault.line)

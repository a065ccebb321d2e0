"""A movement of a practice's own, as the mapping that is stored, and that a routine carries a copy of.

id = "1f3a09c2d4e5b6a79801"           # 20 hexadecimal digits
version = 2
like = "palm_down"                    # the shipped movement whose kind, direction, drawing and cautions it has
name = "Palm down over a roll"
how = ["Lay the forearm on a rolled towel."]
mistakes = []                         # may be empty
purpose = "Why it is done."
leave_out = "A caution of one's own"  # may be left out
cues = {start = "Palm down.", up = "Up", down = "Down"}
arc = {arc_up = 50, arc_down = 30}    # degrees, as far as the drawing has them
tempo = {up_seconds = 2, down_seconds = 4}

The words are shown as they are written, in every language.
"""

import re
from collections.abc import Mapping
from typing import Any, NamedTuple
from unicodedata import category

from webapp.dosing.own_movements import ARCS, LETTERS, LONGEST_WORD, MOST_LINES, TEMPOS, VERSIONS
from webapp.library.movement import Cues, Movement, Own, Purpose
from webapp.library.page import Page, Table
from webapp.library.shelf import Shelf, the_shelf

KEYS = ("id", "version", "like", "name", "how", "mistakes", "purpose", "leave_out", "cues", "arc", "tempo")
CUES = ("start", "up", "down")
_ID = re.compile(r"[0-9a-f]{20}\Z")
_UNPRINTABLE = frozenset({"Cc", "Cs", "Co", "Cn", "Zl", "Zp"})
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Signs that turn the direction of the text behind them, also of text that is not theirs."""
OWN_BEGIN = "own-"


def slot_of(id_: str, like: str, shelf: Shelf) -> str:
    """Return the id under which a routine, a dose and a log know an own movement: of a lift that of the shipped lift."""
    return like if shelf.movements[like].kind == "lift" else OWN_BEGIN + id_


class TextFault(NamedTuple):
    """What is wrong with a text: a code, what of the text it is about, and the operands of the rule."""

    code: str
    value: object
    rule: tuple[object, ...] = ()


def text_fault(name: str, text: str) -> TextFault | None:
    """Return what is wrong with one text, or None. `name` is a key of `LETTERS`."""
    if len(text) > LETTERS[name]:
        return TextFault("too_long", len(text), (LETTERS[name],))
    hidden = next((sign for sign in text if category(sign) in _UNPRINTABLE or sign in _TURNING), None)
    if hidden is not None:
        return TextFault("unprintable", f"U+{ord(hidden):04X}")
    longest = max(text.split(), key=len, default="")
    return TextFault("long_word", longest, (LONGEST_WORD,)) if len(longest) > LONGEST_WORD else None


def _check(table: Table, key: str, name: str, text: str) -> str:
    fault = text_fault(name, text)
    if fault:
        table.fault(key, fault.code, fault.rule, fault.value)
    return text


def _text(table: Table, key: str, fallback: Any = ...) -> str:
    return _check(table, key, key, table.text(key) if fallback is ... else table.text(key, fallback))


def _lines(table: Table, key: str, least: int) -> tuple[str, ...]:
    lines = table.texts(key)
    if not least <= len(lines) <= MOST_LINES:
        table.fault(key, "line_count", (least, MOST_LINES), len(lines))
    return tuple(_check(table, key, "line", line) for line in lines)


def _numbers(table: Table, bounds: Mapping[str, Any]) -> dict[str, Any]:
    table.only(*bounds)
    return {name: table.number(name, bound=bound) for name, bound in bounds.items()}


def read_own(table: Table, shelf: Shelf) -> Movement | None:
    """Read one own movement; None where it has a fault, which the table's page then holds.

    Returns:
        The movement under the id by which a routine knows it (`slot_of`).
    """
    before = len(table.page.faults)
    table.only(*KEYS)
    like = table.choice("like", tuple(ARCS))
    if like not in ARCS:
        return None
    shipped, cues = shelf.movements[like], table.table("cues")
    cues.only(*CUES)
    id_ = table.text("id")
    if not _ID.match(id_):
        table.fault("id", "not_fitting")
    arc, tempo = _numbers(table.table("arc"), ARCS[like]), _numbers(table.table("tempo"), TEMPOS[shipped.kind])
    movement = Movement(
        id=slot_of(id_, like, shelf),
        kind=shipped.kind,
        direction=shipped.direction,
        name=_text(table, "name"),
        how=_lines(table, "how", 1),
        mistakes=_lines(table, "mistakes", 0),
        cues=Cues(*(_text(cues, name) for name in CUES)),
        purpose=Purpose(_text(table, "purpose"), ()),
        sources=("own-choice",),
        leave_out=shipped.leave_out,
        longest_hold_seconds=_longest(tempo.get("longest_hold_seconds"), shipped),
        own=Own(
            id=id_,
            version=table.number("version", bound=VERSIONS),
            like=like,
            leave_out=_text(table, "leave_out", None) or None,
            arc_up=arc.get("arc_up"),
            arc_down=arc.get("arc_down"),
            tempo=tempo,
        ),
    )
    return movement if len(table.page.faults) == before else None


def _longest(seconds: Any, shipped: Movement) -> int | None:
    """Return the longest hold; never longer than that of the shipped stretch, which is a caution."""
    limits = [each for each in (seconds, shipped.longest_hold_seconds) if isinstance(each, int)]
    return min(limits, default=None)


def read_own_movement(entries: Mapping[str, Any], shelf: Shelf | None = None) -> Movement:
    """Read a stored mapping.

    Raises:
        NotAcceptedError: With every fault.
    """
    page = Page()
    movement = read_own(Table(page, entries), shelf or the_shelf())
    page.settle()
    assert movement is not None, "a movement without faults is there"
    return movement


def read_all_own(table: Table, shelf: Shelf) -> tuple[Movement, ...]:
    """Read all own movements that a routine carries, under its key `own`; of those for one place only the first is without fault."""
    read: dict[str, Movement] = {}
    for entry in table.tables("own"):
        movement = read_own(entry, shelf)
        if movement and movement.id in read:
            entry.fault("like", "twice")
        elif movement:
            read[movement.id] = movement
    return tuple(read.values())


def own_in(routine: Mapping[str, Any], shelf: Shelf | None = None) -> tuple[Movement, ...]:
    """Return the own movements that a stored routine carries; the routine was accepted before.

    Raises:
        NotAcceptedError: The limits have changed since, and one has a fault now.
    """
    page = Page()
    movements = read_all_own(Table(page, routine), shelf or the_shelf())
    page.settle()
    return movements

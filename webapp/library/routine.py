"""A routine, as a TOML file or as the same mapping stored.

title = "Outer elbow: daily wrist work"
area = "outer_elbow"                  # outer_elbow, inner_elbow or wrist
directions = ["palm_up", "palm_down", "little_finger_up", "thumb_up"]
stretches = ["stretch_palm_down", "stretch_palm_up"]

[[warm_ups]]                          # any number of them
movement = "fingers"
reps = 10
seconds_each = 3

[tuning]                              # any of those listed below
low_reps = 8

[tempo]                               # any of those listed below
rest_seconds = 20

[[own]]                               # may be left out: movements of a practice's own, as `own_movement.py` has them

[sources]                             # may be left out: key -> keys of sources.toml
rest_seconds = ["own-choice"]
"""

from collections.abc import Mapping
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from webapp.config import content_dir
from webapp.dosing import faults as core
from webapp.dosing.settings import BOUNDS, OwnLift, Routine, Stretch, Tempo, Tuning, WarmUp
from webapp.library.movement import Movement
from webapp.library.own_movement import read_all_own
from webapp.library.page import NUMBER_CODES, Page, Table, open_page
from webapp.library.shelf import Shelf, the_shelf

KEYS = ("title", "area", "directions", "stretches", "warm_ups", "tuning", "tempo", "own", "sources")
JUMPS = "accepted_jumps_kg"


def _numbers(table: Table, kind: type[Any]) -> dict[str, Any]:
    """Return the numbers of a dataclass that the table holds; the dataclass has defaults for the others."""
    names = tuple(field.name for field in fields(kind))
    table.only(*names)
    return {name: table.number(name) for name in names if name in table.entries and name != JUMPS}


def _read_tuning(table: Table) -> Tuning:
    jumps = table.numbers(JUMPS, BOUNDS["weight_kg"], ())
    return Tuning(**_numbers(table, Tuning), accepted_jumps_kg=jumps)


def _read_warm_up(table: Table, shelf: Shelf) -> WarmUp:
    table.only("movement", "reps", "seconds_each")
    movement = table.text("movement")
    if movement and movement not in shelf.of_kind("warm_up"):
        table.fault("movement", "not_a_movement", shelf.of_kind("warm_up"))
    usual = WarmUp(movement)
    return WarmUp(movement, table.number("reps", usual.reps), table.number("seconds_each", usual.seconds_each))


def _read_stretches(table: Table, shelf: Shelf) -> tuple[Stretch, ...]:
    """Read the stretches; the longest hold of each comes from its movement on the shelf."""
    known = shelf.of_kind("stretch")
    named = table.names("stretches", known, "not_a_movement")
    return tuple(Stretch(name, shelf.movements[name].longest_hold_seconds) for name in named if name in known)


def _lift(movement: Movement) -> OwnLift:
    own = movement.own
    assert own is not None, "only own movements come here"
    up, down = float(own.arc_up or 0), float(own.arc_down or 0)
    return OwnLift(movement.id, own.tempo["up_seconds"], own.tempo["down_seconds"], up, down)


def _check_sources(table: Table, shelf: Shelf) -> None:
    for key in table.entries:
        table.names(key, tuple(shelf.sources), "not_a_source")


def _read(page: Page, entries: Any, shelf: Shelf) -> Routine:
    table = Table(page, entries)
    table.only(*KEYS)
    _check_sources(table.table("sources"), shelf)
    own = read_all_own(table, shelf)
    shelf = shelf.with_own(own)
    routine = Routine(
        title=table.text("title"),
        area=table.choice("area", shelf.areas),
        tuning=_read_tuning(table.table("tuning")),
        tempo=Tempo(**_numbers(table.table("tempo"), Tempo)),
        warm_ups=tuple(_read_warm_up(entry, shelf) for entry in table.tables("warm_ups")),
        directions=table.texts("directions"),
        stretches=_read_stretches(table, shelf),
        own=tuple(_lift(movement) for movement in own if movement.kind == "lift"),
    )
    _check_together(table, routine)
    page.settle()
    return routine


def _with(tuning: Tuning, faulty: frozenset[str], end: str) -> Tuning:
    return replace(tuning, **{name: getattr(BOUNDS[name], end) for name in faulty})


def _certain_faults(table: Table, routine: Routine) -> list[core.Fault]:
    """Return the faults between values that are sure, although some values have faults of their own.

    Faulty values are replaced once by their lowest and once by their highest allowed value. A fault is sure where both
    have it.
    """
    faulty = frozenset(fault.key.removeprefix("tuning.") for fault in table.page.faults) & set(BOUNDS)
    faulty &= set(Tuning.__dataclass_fields__)
    low, high = (
        core.faults_of_routine(replace(routine, tuning=_with(routine.tuning, faulty, end))) for end in ("low", "high")
    )
    same = {(fault.code, fault.field) for fault in high}
    return [fault for fault in low if fault.code not in NUMBER_CODES and (fault.code, fault.field) in same]


def _check_together(table: Table, routine: Routine) -> None:
    for found in _certain_faults(table, routine):
        if found.field == "directions" and not routine.directions:
            continue
        key = found.field if found.field in KEYS else f"tuning.{found.field}"
        table.page.fault(table.at(key), found.value, found.code, found.rule)


def read_routine(entries: Mapping[str, Any], shelf: Shelf | None = None) -> Routine:
    """Read a stored mapping.

    Args:
        entries: The routine file as a dict.
        shelf: Holds the movements that the routine may name; by default the shelf of this installation.

    Raises:
        NotAcceptedError: With every fault; `file` is "" and `line` None in each.
    """
    return _read(Page(), entries, shelf or the_shelf())


def load_routine(path: Path, shelf: Shelf | None = None) -> Routine:
    """Read a TOML file.

    Raises:
        NotAcceptedError: With every fault, each with its line.
    """
    page, entries = open_page(path)
    return _read(page, entries, shelf or the_shelf())


def starter(area: str) -> dict[str, Any]:
    """Return the starter routine of an area, as a mapping that may be changed and stored.

    Raises:
        KeyError: There is no such area.
    """
    if area not in the_shelf().areas:
        raise KeyError(area)
    path = content_dir() / "routines" / f"{area}.toml"
    load_routine(path)
    return open_page(path)[1]

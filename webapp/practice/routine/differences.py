"""The differences between two versions of a routine, entry by entry."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from webapp.practice.routine.form import TEMPO, TUNING
from webapp.practice.routine.own import carried_in, lifts_of, value_of, versions_of
from webapp.sync.case.correcting import OF_THE_DOSE

Entries = Mapping[str, Any]


class Difference(NamedTuple):
    """An entry that differs between two versions; `movement` is set if the entry is a number of a warm-up."""

    field: str
    old: object
    new: object
    movement: str | None = None


def differences(old: tuple[Entries, Entries], new: tuple[Entries, Entries]) -> list[Difference]:
    """Compare two versions, each a pair (completed routine, settings); the order is that of the desk's form."""
    return [each for each in _pairs(old, new) if each.old != each.new]


def _pairs(old: tuple[Entries, Entries], new: tuple[Entries, Entries]) -> Iterator[Difference]:
    (was, settings_were), (now, settings_now) = old, new
    yield Difference("title", was["title"], now["title"])
    for name in OF_THE_DOSE:
        yield Difference(name, settings_were.get(name), settings_now.get(name))
    yield Difference("weights", settings_were["weights"], settings_now["weights"])
    yield Difference("usual", settings_were["usual"], settings_now["usual"])
    yield Difference(
        "clinician_seen", *(settings.get("clinician_seen", False) for settings in (settings_were, settings_now))
    )
    yield Difference("directions", lifts_of(was), lifts_of(now))
    yield from _warm_ups(was, now)
    yield from _own(was, now)
    yield Difference("stretches", sorted(was["stretches"]), sorted(now["stretches"]))
    for part, names in (("tuning", TUNING), ("tempo", TEMPO)):
        for name in names:
            yield Difference(name, was[part][name], now[part][name])
    yield Difference("accepted_jumps_kg", _jumps(was), _jumps(now))


def _own(was: Entries, now: Entries) -> Iterator[Difference]:
    """Yield what changes in an own movement that both versions have: its version, or its words under the same number."""
    before, after = versions_of(was), versions_of(now)
    copies = [{value_of(own): own for own in carried_in(routine)} for routine in (was, now)]
    for value in (each for each in before if each in after):
        if copies[0][value] != copies[1][value]:
            # After a restore two copies may have one number, so the pair would look the same.
            yield Difference("own_movement", (*before[value], "carried"), (*after[value], "newest"))


def _jumps(routine: Entries) -> list[float]:
    return list(routine["tuning"]["accepted_jumps_kg"])


def _warm_ups(was: Entries, now: Entries) -> Iterator[Difference]:
    before, after = ({each["movement"]: each for each in routine["warm_ups"]} for routine in (was, now))
    yield Difference("warm_ups", list(before), list(after))
    for movement in (name for name in before if name in after):
        for name in ("reps", "seconds_each"):
            yield Difference(f"{movement}_{name}", before[movement][name], after[movement][name], movement)

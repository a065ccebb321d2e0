"""Own movements on the routine desk: which are offered, which copy a routine carries, and which copy has a newer version.

A routine carries a copy of each own movement. It keeps that copy until the practitioner takes the newest version, so a change of a
movement changes no client's day unasked.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from werkzeug.datastructures import MultiDict

from webapp.library.faults import NotAcceptedError
from webapp.library.movement import Movement
from webapp.library.own_movement import OWN_BEGIN, read_own_movement
from webapp.practice import desk
from webapp.practice.show import movement_names
from webapp.records import movements
from webapp.words.catalogue import mark

Entries = Mapping[str, Any]
OWN_NAMED = mark("%(name)s (own, like %(like)s)")


class Newer(NamedTuple):
    """An own movement of which the practice has a newer version than the routine carries."""

    id: str
    name: str
    old: int
    new: int
    is_taken: bool


@dataclass(frozen=True)
class OwnChoices:
    """The own movements that the form of a routine offers.

    Attributes:
        copies: By the value of the form, what the routine would carry.
        movements: The same, read.
        newer: The carried ones of which there is a newer version.
    """

    copies: Mapping[str, Entries]
    movements: Mapping[str, Movement]
    newer: list[Newer]

    def of_kind(self, kind: str) -> list[str]:
        """List the values of one kind."""
        return [value for value, movement in self.movements.items() if movement.kind == kind]

    def value_in(self, routine: Entries, slot: str) -> str:
        """Return the form's value for a movement of a routine: an own lift that takes its place, else the movement itself."""
        own = next((each for each in carried_in(routine) if each["like"] == slot), None)
        value = value_of(own) if own else slot
        return value if value in self.movements and self.movements[value].kind == "lift" else slot

    def slot_of(self, value: str) -> str:
        """Return the id under which a routine knows a value of the form."""
        return self.movements[value].id if value in self.movements else value

    def tempo_of(self, value: str) -> dict[str, float]:
        """Return the times of an own warm-up by name, as it was made; none for a shipped one."""
        own = self.movements[value].own if value in self.movements else None
        return dict(own.tempo) if own else {}

    def chosen(self, values: Iterable[str]) -> dict[str, list[Entries]]:
        """Return the copies of these values as the part of a routine that carries them; without any there is no such part."""
        own = [self.copies[value] for value in values if value in self.copies]
        return {"own": own} if own else {}


def value_of(own: Entries) -> str:
    """Return the form's value of an own movement."""
    return OWN_BEGIN + str(own["id"])


def carried_in(routine: Entries) -> list[Entries]:
    """Return the own movements that a routine carries."""
    return list(routine.get("own", ()))


def own_choices(routine: Entries, sent: MultiDict[str, str]) -> OwnChoices:
    """Return what the form offers: what the routine carries that it starts from, then the practice's others but the retired.

    Args:
        routine: What the form starts from.
        sent: The entries that were sent, where there are any; they name the movements whose newest version is taken.
    """
    library = {each.public_id: each for each in movements.of_practice(desk.records(), desk.signed_in().practice)}
    taken, newer = set(sent.getlist("newest_of")), []
    copies: dict[str, Entries] = {}
    for own in carried_in(routine):
        known = library.pop(own["id"], None)
        copies[value_of(own)] = own
        if known and known.content != _content(own):
            is_taken = known.public_id in taken
            newer.append(Newer(known.public_id, str(own["name"]), own["version"], known.version, is_taken))
            copies[value_of(own)] = known.entries if is_taken else own
    copies |= {value_of(each.entries): each.entries for each in library.values() if not each.retired_at}
    read = {value: movement for value, own in copies.items() if (movement := _read(own))}
    return OwnChoices({value: copies[value] for value in read}, read, newer)


def named_choices(values: Iterable[str], own: OwnChoices) -> list[tuple[str, str]]:
    """List movements for a choice: the form's value, and the name; of an own one also what it is like."""
    names, say = movement_names(), desk.words().say
    labels = {
        value: say(OWN_NAMED, name=movement.name, like=names[movement.own.like])
        for value, movement in own.movements.items()
        if movement.own
    }
    return [(value, (names | labels)[value]) for value in values]


def named(*routines: Entries) -> dict[str, str]:
    """Return the name of every movement by the form's value, the own movements of these routines too."""
    own = (each for routine in routines for each in carried_in(routine))
    return movement_names() | {value_of(each): each["name"] for each in own}


def lifts_of(routine: Entries) -> list[str]:
    """List the lifts of a routine as values of the form: an own lift by its own value."""
    own = {each["like"]: value_of(each) for each in carried_in(routine)}
    return [own.get(movement, movement) for movement in routine["directions"]]


def versions_of(routine: Entries) -> dict[str, tuple[str, int]]:
    """Return the own movements that a routine carries, by value: the name and the version."""
    return {value_of(each): (each["name"], each["version"]) for each in carried_in(routine)}


def _content(own: Entries) -> dict[str, Any]:
    return {name: value for name, value in own.items() if name not in ("id", "version")}


def _read(own: Entries) -> Movement | None:
    """Read one; None where the limits have changed since it was saved, so that it is not offered."""
    try:
        return read_own_movement(own)
    except NotAcceptedError:
        return None

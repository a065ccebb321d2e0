"""A movement as the client reads it, for a page of the desk."""

from dataclasses import dataclass

from webapp.library.movement import Movement
from webapp.words.catalogue import Words
from webapp.words.own_movements import cautions_of


@dataclass(frozen=True)
class ShownMovement:
    """A movement in one language, as far as it is translated, and its cautions: the shipped ones first."""

    movement: Movement
    cautions: tuple[str, ...]

    @property
    def like(self) -> str:
        """The shipped movement whose drawing it has."""
        return self.movement.own.like if self.movement.own else self.movement.id


def shown_movement(movement: Movement, words: Words) -> ShownMovement:
    """Return an own movement as a client reads it who reads in this language."""
    said = movement.said(words.say)
    shipped = (said.leave_out,) if said.leave_out else ()
    own = said.own.leave_out if said.own else None
    return ShownMovement(said, shipped + cautions_of(words, said.kind, own))

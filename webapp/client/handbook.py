"""The handbook and every movement, said in one language, for the phone's templates.

Knows the content and the words; no request.
"""

from collections.abc import Callable
from dataclasses import dataclass

from webapp.library.handbook import HandbookPage, Part, numbers, the_handbook
from webapp.library.movement import KINDS, Movement
from webapp.library.shelf import Source, the_shelf
from webapp.words import words_for

WORDS_A_MINUTE = 130
"""Own choice: slower than most adults read, since many readers know the language as their third."""


@dataclass(frozen=True)
class SaidPage:
    """A page of the handbook in one language; its gaps are filled.

    Attributes:
        id: Its name.
        title: Its heading.
        picture: The name of its picture, or None.
        parts: What it says.
        caution: What to take care of.
        sources: What it rests on, each in a line; and whether another page tells of it only.
        minutes: About how long it takes to read, at least 1.
    """

    id: str
    title: str
    picture: str | None
    parts: tuple[Part, ...]
    caution: str
    sources: tuple[tuple[str, bool], ...]
    minutes: int


def said_handbook(locale: str) -> tuple[SaidPage, ...]:
    """Return all pages of the handbook in a language, in their order."""
    gaps, words = numbers(), words_for(locale)
    return tuple(_said(page, lambda text: words.say(text, **gaps)) for page in the_handbook())


@dataclass(frozen=True)
class SaidMovement:
    """A movement in one language.

    Attributes:
        id: Its name.
        title: What people call it.
        how: How it is done.
        mistakes: Common mistakes.
        purpose: What it is for.
        basis: What that rests on, each in a line.
        leave_out: Who leaves it out, or None.
    """

    id: str
    title: str
    how: tuple[str, ...]
    mistakes: tuple[str, ...]
    purpose: str
    basis: tuple[str, ...]
    leave_out: str | None


def said_movements(locale: str) -> tuple[SaidMovement, ...]:
    """Return every movement in a language: warm-ups, lifts, stretches."""
    shelf, say = the_shelf(), words_for(locale).say
    ordered = (shelf.movements[id_] for kind in KINDS for id_ in shelf.of_kind(kind))
    return tuple(_said_movement(movement, say) for movement in ordered)


def _said_movement(movement: Movement, say: Callable[[str], str]) -> SaidMovement:
    sources = the_shelf().sources
    return SaidMovement(
        id=movement.id,
        title=say(movement.name),
        how=tuple(map(say, movement.how)),
        mistakes=tuple(map(say, movement.mistakes)),
        purpose=say(movement.purpose.text),
        basis=tuple(say(sources[key].cite) for key in movement.purpose.sources),
        leave_out=say(movement.leave_out) if movement.leave_out else None,
    )


def _said(page: HandbookPage, say: Callable[[str], str]) -> SaidPage:
    parts = tuple(_said_part(part, say) for part in page.parts)
    caution = say(page.caution)
    read = [caution, *(text for part in parts for text in (part.heading or "", *part.text, *sum(part.rows, ())))]
    return SaidPage(
        id=page.id,
        title=say(page.title),
        picture=page.picture,
        parts=parts,
        caution=caution,
        sources=tuple((say(source.cite), _is_told(source)) for source in page.sources),
        minutes=max(1, round(sum(len(text.split()) for text in read) / WORDS_A_MINUTE)),
    )


def _said_part(part: Part, say: Callable[[str], str]) -> Part:
    rows = tuple((say(name), say(text)) for name, text in part.rows)
    return Part(say(part.heading) if part.heading else None, rows, tuple(map(say, part.text)))


def _is_told(source: Source) -> bool:
    return source.mark == "second-hand"

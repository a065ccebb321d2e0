"""The warning signs as rows, a part for each level: the text that the client reads, and its sources."""

from collections.abc import Iterator

from webapp.events.kinds import LEVELS
from webapp.library.shelf import Shelf, Warning  # noqa: A004 - the trade's word: a warning sign
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import rulebook as say
from webapp.words import rulebook_terms as terms


def _held_by(sign: Warning) -> str:
    if not sign.holds:
        return say.HOLDS_NOTHING
    return say.HOLDS_BOTH if sign.is_whole else say.HOLDS_ARM


def signs(wording: Wording, shelf: Shelf) -> Iterator[Section]:
    """Yield the signs of each level, the most urgent first."""
    head = tuple(wording.say(title) for title in say.HEADS["warnings"])
    for level in LEVELS:
        rows = tuple(
            (
                sign.id,
                wording.say(sign.text),
                wording.say(_held_by(sign)),
                "; ".join(map(wording.basis, sign.sources)),
            )
            for sign in shelf.warnings
            if sign.level == level
        )
        act = wording.say(say.TO_DO, act=wording.say(shelf.to_do[level]))
        yield Section(f"signs-{level.replace('_', '-')}", wording.say(terms.LEVELS[level]), (act,), head, rows)

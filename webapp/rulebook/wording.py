"""A page under writing: its language, its sources, and how a number, a basis or a list stands in a cell."""

from collections.abc import Iterable, Mapping, Sequence

from babel.lists import format_list
from babel.numbers import format_decimal

from webapp.dosing.figures import RANGE_BY_EASE
from webapp.dosing.settings import BOUNDS, Tuning
from webapp.library.shelf import Source
from webapp.rulebook.section import Section
from webapp.words import Words, range_text
from webapp.words import rulebook as say
from webapp.words import rulebook_terms as terms

SELF_NAMED = ("own-choice", "common-practice", "derived")
"""Sources that are no paper: their mark says all."""


class Wording:
    """The words of one language, and the sources that a basis points to."""

    def __init__(self, words: Words, sources: Mapping[str, Source]) -> None:
        self.words, self.sources = words, sources

    def say(self, msgid: str, **gaps: object) -> str:
        """Return a sentence with its gaps filled."""
        return self.words.say(msgid, **gaps)

    def number(self, value: float) -> str:
        """Return a number with up to five decimals."""
        return format_decimal(round(value, 5), format="#,##0.#####", locale=self.words.cldr)

    def decimal(self, value: float) -> str:
        """Return a number with just one decimal, for columns."""
        return format_decimal(round(value, 1), format="0.0", locale=self.words.cldr)

    def share(self, value: float) -> str:
        """Return a share as whole per cent."""
        return self.say(say.PER_CENT, number=round(value * 100))

    def range(self, ease: int) -> str:
        """Return the range of motion at a step of ease."""
        return range_text(self.words, RANGE_BY_EASE[ease].value)

    def number_or_nothing(self, value: float) -> str:
        """Return a number, or a dash for 0, which in the core's tables stands for no number."""
        return self.number(value) if value else self.say(say.NOTHING)

    def basis(self, key: str) -> str:
        """Return what a number or rule rests on: the source's key and how it was seen; a KeyError for no such source."""
        mark = self.say(terms.MARKS[self.sources[key].mark])
        return mark if key in SELF_NAMED else self.say(say.BASIS, key=key, mark=mark)

    def listed(self, codes: Iterable[str], names: Mapping[str, str]) -> str:
        """Return some codes as a list of words."""
        return format_list([self.say(names[code]) for code in codes], "or", self.words.cldr)

    def tunable(self, name: str) -> str:
        """Return a setting's default with the bounds within which it may be set."""
        bound, default = BOUNDS[name], getattr(Tuning(), name)
        low, high = self.number(bound.low), self.number(bound.high)
        return self.say(say.TUNABLE, default=self.number(default), low=low, high=high)

    def section(self, name: str, rows: Iterable[Sequence[str]] = (), head: str = "", **gaps: object) -> Section:
        """Return a part of the page: title, notes and column titles are looked up by its name.

        Args:
            name: A key of the words.
            rows: The cells, said already.
            head: The key of the column titles, where it is another.
            gaps: What fills the gaps of the notes.
        """
        notes = tuple(self.say(note, **gaps) if gaps else self.say(note) for note in say.NOTES[name])
        titles = tuple(self.say(title) for title in say.HEADS[head or name])
        return Section(name.replace(" ", "-"), self.say(say.TITLES[name]), notes, titles, tuple(map(tuple, rows)))

"""The language and the sources of a page, and the text of numbers, bases and lists in its cells."""

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
"""Sources that are not publications; the mark alone is shown for them."""


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
        """Return a number with exactly one decimal, for columns."""
        return format_decimal(round(value, 1), format="0.0", locale=self.words.cldr)

    def share(self, value: float) -> str:
        """Return a share as whole per cent."""
        return self.say(say.PER_CENT, number=round(value * 100))

    def range(self, ease: int) -> str:
        """Return the range of motion at a step of ease."""
        return range_text(self.words, RANGE_BY_EASE[ease].value)

    def number_or_nothing(self, value: float) -> str:
        """Return a number, or a dash for 0; in the core's tables 0 means that there is no number."""
        return self.number(value) if value else self.say(say.NOTHING)

    def basis(self, key: str) -> str:
        """Return the basis of a number or rule: the key of the source and how it was seen. An unknown key is a KeyError."""
        mark = self.say(terms.MARKS[self.sources[key].mark])
        return mark if key in SELF_NAMED else self.say(say.BASIS, key=key, mark=mark)

    def listed(self, codes: Iterable[str], names: Mapping[str, str]) -> str:
        """Return codes as a list of words joined by "or"."""
        return format_list([self.say(names[code]) for code in codes], "or", self.words.cldr)

    def tunable(self, name: str) -> str:
        """Return the default and the bounds of a setting."""
        bound, default = BOUNDS[name], getattr(Tuning(), name)
        low, high = self.number(bound.low), self.number(bound.high)
        return self.say(say.TUNABLE, default=self.number(default), low=low, high=high)

    def section(self, name: str, rows: Iterable[Sequence[str]] = (), head: str = "", **gaps: object) -> Section:
        """Return a part of the page; its title, notes and column titles come from the words.

        Args:
            name: The key of the part in the words.
            rows: The cells, as text in this language.
            head: The key of the column titles, where it differs from `name`.
            gaps: The values for the gaps in the notes.
        """
        notes = tuple(self.say(note, **gaps) if gaps else self.say(note) for note in say.NOTES[name])
        titles = tuple(self.say(title) for title in say.HEADS[head or name])
        return Section(name.replace(" ", "-"), self.say(say.TITLES[name]), notes, titles, tuple(map(tuple, rows)))

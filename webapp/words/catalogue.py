"""Catalogues: English is in the code, every other language is a .po file read at start.

May know the folder of .po files; nothing of movements, rules or web pages.
"""

import gettext
from collections.abc import Iterable, Sequence
from functools import lru_cache, reduce
from io import BytesIO
from pathlib import Path

from babel import Locale
from babel.lists import format_list
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from webapp.config import content_dir

DEFAULT_LOCALE = "en"
PSEUDO_LOCALE = "en-XA"
CATEGORIES = ("zero", "one", "two", "few", "many")
NUMBERS = (*range(101), 1_000_000)
"""Among these is a number of every plural category that has whole numbers."""


def mark(text: str) -> str:
    """Mark a sentence for the extractor of messages; it is translated later. Return it unchanged."""
    return text


def mark_plural(singular: str, many: str) -> tuple[str, str]:
    """Mark the two English forms of a sentence with a number, as `mark` marks a sentence. Return both unchanged."""
    return singular, many


LIST = mark("%(first)s, %(more)s")


class Words:
    """The sentences of one language.

    Attributes:
        locale: The tag as it stands in an address, such as "en" or "pt-BR".
        cldr: Babel's locale, for numbers and dates.
    """

    def __init__(self, locale: str, translations: gettext.NullTranslations, cldr: Locale) -> None:
        self.locale = locale
        self.cldr = cldr
        self._translations = translations

    @property
    def direction(self) -> str:
        """The direction of the text, "ltr" or "rtl", for the HTML attribute `dir`."""
        return self.cldr.text_direction

    @property
    def name(self) -> str:
        """The language's name in itself, such as "Español"."""
        if self.locale == PSEUDO_LOCALE:
            return self.say(PSEUDO_LOCALE)
        name = self.cldr.display_name or self.locale
        return name[0].upper() + name[1:]

    @property
    def categories(self) -> tuple[tuple[str, int], ...]:
        """Each plural category of the language by its name in CLDR, with a whole number of it; "other" last.

        Where only fractions are of a category, the number is any that counts many: nobody asks for its sentence.
        """
        of = {self.cldr.plural_form(n): n for n in reversed(NUMBERS)}
        names = [*(name for name in CATEGORIES if name in self.cldr.plural_form.tags), "other"]
        return tuple((name, of.get(name, NUMBERS[-2])) for name in names)

    @property
    def list_of_two(self) -> str:
        """How two things are joined, by CLDR's pattern, with the gaps {first} and {last}."""
        return self.say(format_list(["{first}", "{last}"], locale=self.cldr))

    def say(self, msgid: str, /, **gaps: object) -> str:
        """Return a sentence with its %(gaps)s filled."""
        said = self._translations.gettext(msgid)
        return said % gaps if gaps else said

    def listed(self, texts: Sequence[str]) -> str:
        """Return texts as one list without "and", with the commas of the language; "" for no text."""
        *earlier, last = texts or [""]
        return reduce(lambda more, first: self.say(LIST, first=first, more=more), reversed(earlier), last)

    def plural(self, singular: str, many: str, n: int, /, **gaps: object) -> str:
        """Return the plural form of a sentence for `n`, with its gaps filled; `n` fills the gap %(n)s."""
        return self.form(singular, many, n) % {"n": n, **gaps}

    def form(self, singular: str, many: str, n: int, /) -> str:
        """Return the plural form of a sentence for `n`, with its gaps unfilled."""
        return self._translations.ngettext(singular, many, n)


class _Bracketed(gettext.NullTranslations):
    """A pseudo-language that puts every message in brackets and makes it a third longer.

    The brackets show a sentence outside the catalogue; the length shows where a longer language would not fit.
    """

    def gettext(self, message: str) -> str:
        return f"[{message}{_padding(message)}]"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


def _padding(message: str) -> str:
    """Return a third of a message's length, in words of six signs that are no letters."""
    length = -(-len(message) // 3)
    return (" ~~~~~~" * length)[:length]


def pseudo_words() -> Words:
    """Return the pseudo-language of the tests: English, every message in brackets and a third longer."""
    return Words(PSEUDO_LOCALE, _Bracketed(), Locale.parse("en"))


def locales_in(directory: Path) -> tuple[str, ...]:
    """List the installed languages: English, and one for each .po file of the folder."""
    found = sorted(path.stem.replace("_", "-") for path in directory.glob("*.po"))
    return (DEFAULT_LOCALE, *(tag for tag in found if tag != DEFAULT_LOCALE))


def _translations_of(path: Path) -> gettext.NullTranslations:
    if not path.is_file():
        return gettext.NullTranslations()
    with path.open("rb") as source:
        catalogue = read_po(source, locale=path.stem)
    compiled = BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)


def read_words(locale: str, directory: Path) -> Words:
    """Read one language.

    Args:
        locale: A tag such as "en" or "pt-BR".
        directory: The folder with one .po file for each language but English.

    Raises:
        LookupError: There is no such language in the folder.
    """
    if locale == PSEUDO_LOCALE:
        return pseudo_words()
    if locale not in locales_in(directory):
        raise LookupError(locale)
    path = directory / f"{locale.replace('-', '_')}.po"
    return Words(locale, _translations_of(path), Locale.parse(locale, sep="-"))


@lru_cache(maxsize=64)
def words_for(locale: str = DEFAULT_LOCALE) -> Words:
    """Return the words of an installed language; English where the language is not installed."""
    try:
        return read_words(locale, content_dir() / "locale")
    except LookupError:
        return read_words(DEFAULT_LOCALE, content_dir() / "locale")


def lacking(locales: Iterable[str]) -> list[str]:
    """Return those of these tags for which no language is installed."""
    installed = (*locales_in(content_dir() / "locale"), PSEUDO_LOCALE)
    return [tag for tag in locales if tag not in installed]


def names_of(locales: Iterable[str]) -> list[tuple[str, str]]:
    """Return languages as choices for a form: the tag, and the name of the language in itself."""
    return [(tag, words_for(tag).name) for tag in locales]

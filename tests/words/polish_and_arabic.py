"""Two small languages with other plural forms than English, for tests: Polish has three, Arabic has six and runs from the right."""

from pathlib import Path

from webapp.words.catalogue import Words, locales_in, read_words

POLISH = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: pl\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

msgid "no weight"
msgstr "bez ciężaru"

msgid "Start"
msgstr "Zacznij"

msgid "%(n)d time"
msgid_plural "%(n)d times"
msgstr[0] "%(n)d raz"
msgstr[1] "%(n)d razy (kilka)"
msgstr[2] "%(n)d razy"

msgid "{n} minute"
msgid_plural "{n} minutes"
msgstr[0] "{n} minuta"
msgstr[1] "{n} minuty"
msgstr[2] "{n} minut"
"""
ARABIC = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: ar\n"
"Plural-Forms: nplurals=6; plural=n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5;\n"

msgid "Start"
msgstr "ابدأ"

msgid "%(n)d time"
msgid_plural "%(n)d times"
msgstr[0] "zero"
msgstr[1] "one"
msgstr[2] "two"
msgstr[3] "few"
msgstr[4] "many"
msgstr[5] "other"

msgid "{n} minute"
msgid_plural "{n} minutes"
msgstr[0] "{n} zero"
msgstr[1] "{n} one"
msgstr[2] "{n} two"
msgstr[3] "{n} few"
msgstr[4] "{n} many"
msgstr[5] "{n} other"
"""


class Languages:
    """A folder with these two languages, which finds words as `words_for` does."""

    def __init__(self, folder: Path) -> None:
        (folder / "pl.po").write_text(POLISH, encoding="utf-8")
        (folder / "ar.po").write_text(ARABIC, encoding="utf-8")
        self.folder = folder

    def __call__(self, tag: str) -> Words:
        """Return the words of a language, English where it is not here."""
        return read_words(tag if tag in locales_in(self.folder) else "en", self.folder)

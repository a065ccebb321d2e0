"""Languages come from .po files read at start; a missing one is English; plural forms are whole."""

import pytest
from jinja2 import Environment

from webapp.words import install, locales_in, pseudo_words, read_words, words_for

POLISH = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: pl\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

msgid "no weight"
msgstr "bez ciężaru"

msgid "%(n)d time"
msgid_plural "%(n)d times"
msgstr[0] "%(n)d raz"
msgstr[1] "%(n)d razy (kilka)"
msgstr[2] "%(n)d razy"
"""
ARABIC = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Language: ar\n"
"Plural-Forms: nplurals=6; plural=n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5;\n"

msgid "%(n)d time"
msgid_plural "%(n)d times"
msgstr[0] "zero"
msgstr[1] "one"
msgstr[2] "two"
msgstr[3] "few"
msgstr[4] "many"
msgstr[5] "other"
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "pl.po").write_text(POLISH, encoding="utf-8")
    (tmp_path / "ar.po").write_text(ARABIC, encoding="utf-8")
    return tmp_path


def test_the_languages_at_hand_are_english_and_the_files_of_the_folder(folder):
    assert locales_in(folder) == ("en", "ar", "pl")


def test_a_sentence_without_a_translation_stays_english(folder):
    words = read_words("pl", folder)
    assert words.say("no weight") == "bez ciężaru"
    assert words.say("Rest") == "Rest"


@pytest.mark.parametrize(("n", "said"), [(1, "1 raz"), (2, "2 razy (kilka)"), (5, "5 razy"), (22, "22 razy (kilka)")])
def test_polish_has_three_forms(folder, n, said):
    assert read_words("pl", folder).plural("%(n)d time", "%(n)d times", n) == said


@pytest.mark.parametrize(("n", "said"), [(0, "zero"), (1, "one"), (2, "two"), (7, "few"), (11, "many"), (100, "other")])
def test_arabic_has_six_forms_and_runs_from_the_right(folder, n, said):
    words = read_words("ar", folder)
    assert words.plural("%(n)d time", "%(n)d times", n) == said
    assert words.direction == "rtl"


def test_a_language_that_is_not_there_is_an_error_when_read_and_english_when_asked_for(folder):
    with pytest.raises(LookupError):
        read_words("tlh", folder)
    assert words_for("tlh").locale == "en"


def test_the_pseudo_language_puts_every_message_in_brackets():
    words = pseudo_words()
    assert words.say("Rest") == "[Rest]"
    assert words.plural("%(n)d time", "%(n)d times", 2) == "[2 times]"


class Pages:
    """Stands for an application: all that `install` needs of one."""

    def __init__(self):
        self.jinja_env = Environment(autoescape=True)


@pytest.mark.parametrize(
    ("locale", "said"), [("en", "Rest 2 times"), ("en-XA", "[Rest] [2 times]"), (None, "Rest 2 times")]
)
def test_a_page_speaks_the_language_it_is_given(locale, said):
    pages = Pages()
    install(pages)
    page = pages.jinja_env.from_string("{{ _('Rest') }} {{ ngettext('%(num)d time', '%(num)d times', 2) }}")
    assert page.render(locale=locale) == said

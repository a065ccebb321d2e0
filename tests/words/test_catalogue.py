"""Languages come from .po files read at start; a missing one is English; plural forms are whole."""

import pytest
from jinja2 import Environment

from tests.words.polish_and_arabic import Languages
from webapp.words import install, locales_in, pseudo_words, read_words, words_for


@pytest.fixture
def folder(tmp_path):
    return Languages(tmp_path).folder


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


def test_the_pseudo_language_puts_every_message_in_brackets_and_makes_it_a_third_longer():
    words = pseudo_words()
    assert words.say("Rest") == "[Rest ~]"
    assert words.plural("%(n)d time", "%(n)d times", 2) == "[2 times ~~~]"


class Pages:
    """Stands for an application: all that `install` needs of one."""

    def __init__(self):
        self.jinja_env = Environment(autoescape=True)


@pytest.mark.parametrize(
    ("locale", "said"), [("en", "Rest 2 times"), ("en-XA", "[Rest ~] [2 times ~~~~]"), (None, "Rest 2 times")]
)
def test_a_page_speaks_the_language_it_is_given(locale, said):
    pages = Pages()
    install(pages)
    page = pages.jinja_env.from_string("{{ _('Rest') }} {{ ngettext('%(num)d time', '%(num)d times', 2) }}")
    assert page.render(locale=locale) == said


def test_a_page_is_told_a_number_of_each_plural_category_and_its_direction(folder):
    pages = Pages()
    install(pages, Languages(folder))
    page = pages.jinja_env.from_string(
        "{{ text_direction() }}{% for name, n in plural_categories() %} {{ name }} {{ n }}{% endfor %}"
    )
    assert page.render(locale="en") == "ltr one 1 other 0"
    assert page.render(locale="ar") == "rtl zero 0 one 1 two 2 few 3 many 11 other 100"


# The categories are CLDR's; Polish has whole numbers in all of them but "other".
@pytest.mark.parametrize("tag", ["en", "pl", "ar"])
def test_the_number_of_a_category_stands_for_all_its_numbers(folder, tag):
    words = read_words(tag, folder)
    numbers = dict(words.categories)
    for n in range(1000):
        category = words.cldr.plural_form(n)
        form = words.form("%(n)d time", "%(n)d times", n)
        assert form == words.form("%(n)d time", "%(n)d times", numbers[category]), (n, category)


def test_a_list_has_the_commas_of_its_language():
    words = words_for("en")
    assert [words.listed(texts) for texts in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a, b", "a, b, c"]

"""Translations: the file of all sentences is up to date, and a translation has the gaps and the forms of its English."""

import gettext
import re
from html.parser import HTMLParser
from io import BytesIO

import pytest
from babel.messages.pofile import read_po

from tests.words.collect import LOCALES, TEMPLATE, collect, read_language, sentences_in, strings, updated, written

GAP = re.compile(r"%\((\w+)\)[sd]|\{(\w+)\}")
COUNTED = {"n", "num"}
MANY_NUMBERS = (*range(1001), 10**6)
HEAD = r"""
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\n"

"""


@pytest.fixture(scope="module")
def sentences():
    return collect()


def languages():
    return {path.stem: read_language(path) for path in sorted(LOCALES.glob("*.po"))}


def polish(text):
    return read_po(BytesIO((HEAD + text).encode()), locale="pl")


def gaps(text):
    return {name or other for name, other in GAP.findall(text)}


class Tags(HTMLParser):
    """Collects the elements of a text."""

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, *_):
        self.found.append(tag)

    def handle_endtag(self, tag):
        self.found.append(f"/{tag}")


def tags(text):
    reader = Tags()
    reader.feed(text)
    reader.close()
    return sorted(reader.found)


def forms_of_one_number(catalog):
    """Return the places of the plural forms that stand for one number only, such as the dual: they need not name it."""
    places = [*map(gettext.c2py(catalog.plural_expr), MANY_NUMBERS)]
    return {index for index in places if places.count(index) == 1}


def faults_of(catalog):
    """Yield what is wrong with a language's translations, each with its English."""
    alone = forms_of_one_number(catalog)
    for message in catalog:
        said = strings(message)
        if not message.id or not any(said):
            continue
        english = message.id if isinstance(message.id, tuple) else (message.id,)
        if message.fuzzy:
            yield "is marked as a guess", english[0]
        if not all(said) or len(said) != (catalog.num_plurals if len(english) > 1 else 1):
            yield "lacks a form", english[0]
        for index, form in enumerate(said):
            lacking = gaps(english[-1]) ^ gaps(form)
            if lacking - (COUNTED if len(english) > 1 and index in alone else set()):
                yield "has other gaps", english[0]
            if tags(form) != tags(english[-1]):
                yield "has other elements", english[0]
            if gaps(form) and "%(" in form:
                yield from _unfillable(form, english[0])


def _unfillable(form, english):
    try:
        form % dict.fromkeys(gaps(form), 1)
    except (ValueError, TypeError, KeyError):
        yield "cannot be filled", english


def test_the_file_of_all_sentences_is_up_to_date(sentences):
    assert TEMPLATE.read_bytes() == written(sentences), "run: python3 tests/run.py words"


def test_no_translation_has_other_gaps_or_forms_than_its_english():
    assert {tag: list(faults_of(catalog)) for tag, catalog in languages().items() if list(faults_of(catalog))} == {}


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('msgid "Rung %(rung)s"\nmsgstr "Szczebel %(szczebel)s"', "has other gaps"),
        ('msgid "of {reps}"\nmsgstr "z"', "has other gaps"),
        ('msgid "no weight"\nmsgstr "bez <b>ciężaru"', "has other elements"),
        ('#, fuzzy\nmsgid "no weight"\nmsgstr "bez"', "is marked as a guess"),
        ('msgid "%(share)s is 10 %%"\nmsgstr "%(share)s to 10 %"', "cannot be filled"),
        ('msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "dzień"\nmsgstr[1] "{n} dni"\nmsgstr[2] ""', "lacks a form"),
        ('msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "dzień"\nmsgstr[1] "dni"\nmsgstr[2] "{n} dni"', "has other gaps"),
    ],
)  # fmt: skip
def test_a_faulty_translation_is_noticed(text, fault):
    assert fault in [fault_found for fault_found, _ in faults_of(polish(text))]


def test_a_good_translation_is_not_complained_about():
    forms = 'msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "dzień"\nmsgstr[1] "{n} dni"\nmsgstr[2] "{n} dni"\n\n'
    assert list(faults_of(polish(forms + 'msgid "no weight"\nmsgstr "bez ciężaru"'))) == []


def test_an_update_keeps_a_translation_and_drops_one_whose_english_is_gone(sentences):
    catalog = polish('msgid "no weight"\nmsgstr "bez ciężaru"\n\nmsgid "no wait"\nmsgstr "bez czekania"')
    assert updated(catalog, sentences) == ["no wait"]
    assert catalog["no weight"].string == "bez ciężaru"
    assert "no wait" not in catalog
    assert len(catalog) == len(sentences)
    assert b"fuzzy" not in written(catalog)


def test_what_is_written_is_the_same_when_it_is_read_and_written_again(sentences):
    catalog = polish('msgid "no weight"\nmsgstr "bez ciężaru"')
    updated(catalog, sentences)
    once = written(catalog)
    again = read_po(BytesIO(once), locale="pl")
    updated(again, sentences)
    assert written(again) == once


def test_a_new_key_of_content_is_asked_about():
    assert list(sentences_in({"name": "Palm up", "sources": ["own-choice"], "cues": {"up": "Up"}})) == ["Palm up", "Up"]
    with pytest.raises(LookupError, match="'hint'"):
        list(sentences_in({"hint": "Sit down."}))


def test_every_language_says_every_sentence_and_no_other(sentences):
    wanted = {message.id for message in sentences if message.id}
    for tag, catalog in languages().items():
        said = {message.id for message in catalog if message.id and all(strings(message))}
        assert (tag, wanted - said, said - wanted) == (tag, set(), set())


def test_spanish_is_there_and_says_that_a_native_reader_has_not_seen_it():
    assert "awaiting a native reader" in languages()["es"].header_comment


def test_a_new_sentence_has_no_translation_yet(sentences):
    catalog = polish('msgid "old"\nmsgstr "stare"\n')
    updated(catalog, sentences)
    assert not any(all(strings(message)) for message in catalog if message.id)

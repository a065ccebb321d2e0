"""The handbook: whole, sourced, true to the rules, and without what may not be said."""

import dataclasses
import re

import pytest

from webapp.config import content_dir
from webapp.dosing.responses import classify
from webapp.dosing.settings import Tuning
from webapp.library.faults import NotAcceptedError
from webapp.library.handbook import numbers, open_handbook, read_page, the_handbook
from webapp.library.shelf import Source, the_shelf

PAGES = (
    "sore", "soreness", "easing", "light_and_many", "both_sides", "strap_warmth_sleep", "hands", "push_ups", "sport", "seen",
)  # fmt: skip
GAP = re.compile(r"%\((\w+)\)s")
FITTING = """number = 1
title = "One"
caution = "Stop when it hurts."
sources = ["{source}"]
[[part]]
text = ["A sentence."]
"""


def texts_of(page):
    """Every sentence of a page but its sources."""
    of_parts = [text for part in page.parts for text in (part.heading or "", *part.text, *sum(part.rows, ()))]
    return [page.title, page.caution, *of_parts]


def test_the_pages_stand_in_their_order():
    assert tuple(page.id for page in the_handbook()) == PAGES
    assert [page.number for page in the_handbook()] == list(range(1, len(PAGES) + 1))


@pytest.mark.parametrize("page", the_handbook(), ids=lambda page: page.id)
def test_a_page_rests_on_something_that_was_seen_or_says_that_it_does_not(page):
    assert page.sources
    assert all(source.mark != "memory" for source in page.sources)


def test_every_gap_is_a_number_of_the_rules_and_every_number_is_used():
    named = {name for page in the_handbook() for text in texts_of(page) for name in GAP.findall(text)}
    assert named == set(numbers())


def test_a_number_of_a_rule_is_never_written_out():
    """Ratings that decide something stand as gaps; the other bands of the handbook are those of a health service."""
    page = next(page for page in the_handbook() if page.id == "soreness")
    table = [part for part in page.parts if part.rows]
    assert len(table) == 1
    said = " ".join([*table[0].text, *sum(table[0].rows, ())])
    assert set(re.findall(r"\d+", GAP.sub("", said))) == {"0", "10"}


def a_morning(morning, before=0, usual=0, during=0):
    """How the core classes a day whose work was done, by its ratings."""
    return classify("enough", during, morning, before, usual, Tuning())


def test_what_the_page_about_soreness_says_is_what_the_core_does():
    """Each row and each sentence of the page, at its number and one below."""
    stated = numbers()
    settled, flared, sharp = stated["settled"], stated["flared"], stated["sharp"]
    assert (a_morning(settled), a_morning(settled + 1, before=settled)) == ("settled", "tender_over")
    assert a_morning(settled + 1, before=settled + 1, usual=settled + 1) == "settled"
    assert a_morning(stated["under_flared"], before=stated["under_flared"], usual=4).startswith(("tender", "settled"))
    assert {a_morning(rating, before=rating, usual=5) for rating in (flared, stated["under_sharp"])} == {"flared"}
    assert {a_morning(rating, before=rating) for rating in range(sharp, 11)} == {"sharp"}
    assert a_morning(stated["rise_from"], before=stated["rise_from"] - stated["rise"]) == "flared"
    assert a_morning(stated["rise_from"], before=stated["rise_from"] - stated["rise"] + 1) != "flared"
    assert (
        a_morning(stated["over_from"], before=stated["over_from"], usual=stated["over_from"] - stated["over"])
        == "flared"
    )
    assert (
        a_morning(stated["over_from"], before=stated["over_from"], usual=stated["over_from"] - stated["over"] + 1)
        != "flared"
    )
    assert (a_morning(0, during=flared), a_morning(0, during=sharp)) == ("flared", "sharp")
    assert a_morning(0, during=flared - 1) != "flared"


@pytest.mark.parametrize("page", the_handbook(), ids=lambda page: page.id)
def test_a_page_promises_nothing_and_names_no_disease(page):
    said = " ".join(texts_of(page)).lower()
    assert not re.search(r"\bwill (heal|cure|get better|go away)\b|guarantee|you have (a|an) (tear|tendin)", said)
    assert not re.search(r"tendin|epicondyl|tennis elbow|golfer", said)


@pytest.mark.parametrize("page", the_handbook(), ids=lambda page: page.id)
def test_a_sentence_is_short_enough_for_a_reader_of_twelve(page):
    """Own choice: 30 words at most, and 16 in the middle of a page's sentences."""
    sentences = [each.split() for text in texts_of(page) for each in re.split(r"(?<=[.?:;])\s", text) if each]
    assert max(map(len, sentences)) <= 30
    assert sorted(map(len, sentences))[len(sentences) // 2] <= 16


@pytest.mark.parametrize("word", ["kettle", "strap", "sleep", "warm", "push-up", "keyboard", "sport", "flare"])
def test_what_clients_ask_about_stands_somewhere(word):
    assert any(word in " ".join(texts_of(page)).lower() for page in the_handbook())


def test_a_page_that_rests_on_memory_is_refused(tmp_path):
    path = tmp_path / "one.toml"
    sources = the_shelf().sources
    path.write_text(FITTING.format(source="own-choice"), encoding="utf-8")
    assert read_page(path, sources).title == "One"
    forgotten = {"own-choice": dataclasses.replace(sources["own-choice"], mark="memory")}
    with pytest.raises(NotAcceptedError, match="sources"):
        read_page(path, forgotten)


@pytest.mark.parametrize(
    ("before", "after", "key"),
    [
        ("number = 1", "number = 0", "number"),
        ('title = "One"', "", "title"),
        ('caution = "Stop when it hurts."', "", "caution"),
        ('sources = ["own-choice"]', "sources = []", "sources"),
        ('text = ["A sentence."]', "text = 3", "text"),
        ("[[part]]", "[[chapter]]", "chapter"),
    ],
)
def test_a_fault_of_a_page_is_named(tmp_path, before, after, key):
    path = tmp_path / "one.toml"
    path.write_text(FITTING.format(source="own-choice").replace(before, after), encoding="utf-8")
    with pytest.raises(NotAcceptedError, match=key):
        read_page(path, {"own-choice": Source("own-choice", "Own", "All", "own-choice")})


def test_two_pages_of_one_number_are_refused(tmp_path):
    for name in ("one", "other"):
        (tmp_path / f"{name}.toml").write_text(FITTING.format(source="own-choice"), encoding="utf-8")
    with pytest.raises(NotAcceptedError, match="number"):
        open_handbook(tmp_path)


def test_the_pictures_of_pages_are_known():
    named = {page.picture for page in the_handbook()} - {None, "soreness"}
    assert named <= set(the_shelf().movements)
    assert (content_dir() / "handbook").is_dir()

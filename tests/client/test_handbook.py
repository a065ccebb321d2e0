"""The handbook as a phone gets it: said in its language, with the caution and the sources on each page."""

import re

import pytest

from webapp.client.handbook import said_handbook, said_movements
from webapp.library.handbook import the_handbook
from webapp.library.shelf import the_shelf


@pytest.mark.parametrize("locale", ["en", "es", "en-XA"])
def test_every_page_is_said_whole_with_all_gaps_filled(locale):
    pages = said_handbook(locale)
    assert [page.id for page in pages] == [page.id for page in the_handbook()]
    for page in pages:
        assert "%(" not in repr(page)
        assert 1 <= page.minutes <= 4
        assert len(page.sources) == len(next(each for each in the_handbook() if each.id == page.id).sources)


def test_a_source_that_others_tell_of_says_so():
    soreness = next(page for page in said_handbook("en") if page.id == "soreness")
    assert {cite.split(",")[0]: is_told for cite, is_told in soreness.sources}["Cheung K"]


def test_each_page_is_sent_with_its_caution_and_its_sources(app):
    browser = app.test_client()
    later = re.search(r'data-later="(/[^"]+)"', browser.get("/app/en/").text)[1]
    sent = re.findall(r'<template data-piece="handbook\.(\w+)">(.*?)</template>', browser.get(later).text, re.DOTALL)
    assert [name for name, _ in sent] == [page.id for page in the_handbook()]
    for _, leaf in sent:
        assert 'class="leaf-caution"' in leaf
        assert re.search(r'class="leaf-sources".*<li>', leaf, re.DOTALL)
        assert "<h1" not in leaf


@pytest.mark.parametrize("locale", ["en", "es"])
def test_every_movement_is_explained_in_each_language(locale):
    said = said_movements(locale)
    assert {movement.id for movement in said} == set(the_shelf().movements)
    for movement in said:
        original = the_shelf().movements[movement.id]
        assert (len(movement.how), len(movement.mistakes)) == (len(original.how), len(original.mistakes))
        assert (movement.leave_out is None) == (original.leave_out is None)
        assert movement.purpose
        assert movement.basis


def test_a_purpose_rests_on_what_is_not_from_memory():
    marks = {
        source.mark
        for each in the_shelf().movements.values()
        for key in each.purpose.sources
        for source in [the_shelf().sources[key]]
    }
    assert "memory" not in marks

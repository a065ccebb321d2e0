"""The handbook: every page is on the phone, a search finds a word in it, and a page leads to the next."""

import pytest
from playwright.sync_api import expect

from e2e.reading import HandbookScreen
from tests.cast import BELL_FOUNDER
from webapp.library.handbook import the_handbook


@pytest.fixture
def client(one_phone, joined):
    """A client with a routine."""
    return joined(one_phone, BELL_FOUNDER)


@pytest.fixture
def book(one_phone, server, client):
    """The list of pages, on a phone whose server is dead."""
    server.kill()
    found = HandbookScreen(one_phone.page)
    found.way.tap()
    expect(found.rows).to_have_count(len(the_handbook()))
    return found


def test_a_word_is_found_and_its_page_read_without_a_network(book):
    book.seek.fill("KÉTTLE")
    expect(book.rows).to_have_count(1)
    expect(book.places).to_have_text("1 page")
    expect(book.match).to_have_text("Kettle")
    book.seek.fill("unicorn")
    expect(book.nothing).to_be_visible()
    expect(book.rows).to_have_count(0)
    book.seek.fill("kettle")
    book.rows.first.tap()
    expect(book.title).to_have_text("Hands at work and at home")
    expect(book.caution).to_be_visible()
    expect(book.sources.first).to_be_visible()
    book.next.tap()
    expect(book.title).to_have_text("Push-ups, and leaning on a hand")
    book.back.tap()
    expect(book.rows).to_have_count(len(the_handbook()))

"""The site in the pseudo-language, where every message stands in brackets: no letter that a person sees stands outside them."""

import re
from datetime import UTC, datetime
from html.parser import HTMLParser

import pytest

from tests.builders import empty_records, enrol, hire
from tests.cast import BOOKBINDER, HEDDA
from webapp.app import create_app
from webapp.config import Settings
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import make_bundle, prescribed
from webapp.words.catalogue import PSEUDO_LOCALE, pseudo_words

ORIGIN = "http://127.0.0.1:8765"
LETTERS = re.compile(r"[^\W\d_]{2,}")
READ_ALOUD = {"alt", "aria-label", "placeholder", "title"}
# Names of people, of the program and of this language are nobody's to translate; a routine's title is the practitioner's
# own; days and instants are written by the language's own calendar.
OWN = (HEDDA.name, BOOKBINDER.name, "Halfturn", PSEUDO_LOCALE, starter(BOOKBINDER.area)["title"])
NAMES = re.compile("|".join([*map(re.escape, OWN), r"\d+ [A-Z][a-z]{2} \d{4}, \d\d:\d\d UTC"]))
IDS = {"movement", "direction", "kind", "mode", "id", "level", "locale", "hash", "cube", "rule", "arm"}


def outside_brackets(text):
    """The letters of a text that no message holds."""
    depth, kept = 0, []
    for letter in NAMES.sub("", text):
        depth += letter == "["
        if depth == 0:
            kept.append(letter)
        depth -= letter == "]"
    return LETTERS.findall("".join(kept))


class Reader(HTMLParser):
    """Collects what a person would see or hear of a page, one piece of text at a time."""

    def __init__(self):
        super().__init__()
        self.pieces, self._silent = [], 0

    def handle_starttag(self, tag, attrs):
        self._silent += tag in {"script", "style"}
        self.pieces += [value for name, value in attrs if name in READ_ALOUD and value]

    def handle_endtag(self, tag):
        self._silent -= tag in {"script", "style"}

    def handle_data(self, data):
        if not self._silent and data.strip():
            self.pieces.append(data)


def bare(page):
    reader = Reader()
    reader.feed(page)
    return [piece.strip() for piece in reader.pieces if outside_brackets(piece)]


@pytest.fixture
def site(db_path):
    """The whole program in the pseudo-language, with Hedda and one client in it."""
    db = empty_records(db_path)
    enrol(db, hire(db, HEDDA).id, BOOKBINDER)
    db.conn.close()
    app = create_app(Settings(db=db_path, origin=ORIGIN, locales=(PSEUDO_LOCALE,)), clock=lambda: datetime.now(UTC))
    return app.test_client()


def test_the_walk_knows_what_is_wrapped():
    assert outside_brackets("[Good day], [3 of [ten]]") == []
    assert outside_brackets("[Good] day") == ["day"]


@pytest.mark.parametrize(
    "address", ["/", "/join", "/app/recover", f"/app/{PSEUDO_LOCALE}/", "/practice/sign-in", "/nowhere"]
)
def test_no_bare_letters_before_anybody_is_known(site, address):
    assert bare(site.get(address, base_url=ORIGIN).text) == []


def test_no_bare_letters_at_the_desk(site):
    door = site.get("/practice/sign-in", base_url=ORIGIN).text
    token = re.search(r'name="csrf_token" value="([^"]+)"', door)[1]
    signed_in = site.post(
        "/practice/sign-in",
        data={"email": HEDDA.email, "password": HEDDA.password, "csrf_token": token},
        base_url=ORIGIN,
        headers={"Sec-Fetch-Site": "same-origin"},
    )
    assert signed_in.status_code == 303
    case = f"/practice/cases/{BOOKBINDER.public_id}"
    for address in ("/practice", "/practice/add", case, f"{case}/routine", f"{case}/rehearsal/1"):
        page = site.get(address, base_url=ORIGIN)
        assert page.status_code == 200, address
        assert bare(page.text) == [], address


def sentences(value, key=""):
    """Every text of a bundle that a person reads, ids and numbers apart."""
    if isinstance(value, dict):
        for name, entry in value.items():
            yield from sentences(entry, name)
    elif isinstance(value, list):
        for entry in value:
            yield from sentences(entry, key)
    elif isinstance(value, str) and key not in IDS:
        yield key, value


def test_no_bare_letters_in_what_a_phone_is_sent():
    routine = {**starter(BOOKBINDER.area), "title": "Title"}
    bundle = make_bundle(prescribed(routine, BOOKBINDER.settings, 1), pseudo_words(), the_shelf())
    read = [part for part in bundle if part not in {"almanac", "arms", "asks", "ends_day"}]
    bundle["way"] = {part: bundle["way"][part] for part in ("says", "ladders")}
    shown = [(key, text) for part in read for key, text in sentences(bundle[part], part)]
    assert len(shown) > 50
    assert [(key, text) for key, text in shown if outside_brackets(text)] == []

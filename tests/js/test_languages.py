"""The phone in other languages: the real shell and the real day page, drawn in Node on a page of elements and an empty storage."""

import json
from datetime import date

import pytest
from babel import Locale

from tests.builders import enrol, hire, screened
from tests.cast import BOOKBINDER, HEDDA, NOW, ZONE
from tests.js.conftest import answer_of
from tests.rules.tree import ROOT
from tests.words.polish_and_arabic import Languages
from webapp.app import create_app
from webapp.config import Settings
from webapp.sync.log.take import take_batch
from webapp.words import install

ON = "2026-03-02"
TAGS = ("pl", "ar")
DRAWN = """
import {{ readFileSync }} from "node:fs";
import {{ drawn }} from {script};
const {{ shell, reply, on }} = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(await drawn(shell, reply, on)));
"""
SCRIPT = json.dumps((ROOT / "tests/js/shown_day.js").as_uri())


@pytest.fixture
def app(db, db_path, tmp_path):
    served = create_app(Settings(db=db_path, locales=("en", *TAGS)), lambda: NOW)
    install(served, Languages(tmp_path))
    return served


@pytest.fixture
def shell(app):
    return lambda tag: app.test_client().get(f"/app/{tag}/").text


@pytest.fixture
def reply(app, db):
    """The first reply to a phone of the bookbinder."""
    phone = app.test_client()
    own = {"Sec-Fetch-Site": "same-origin"}
    client = enrol(db, hire(db, HEDDA).id, BOOKBINDER)
    take_batch(db, client.id, "another phone", [json.dumps(screened(date.fromisoformat(ON))).encode()], NOW)
    joined = phone.post("/api/join", json={"device_name": "a phone", "token": client.token}, headers=own).json
    body = {
        "format": 1, "client": client.public_id, "device": joined["device"], "epoch": None, "cursor": 0, "on": ON,
        "zone": ZONE, "sent_at": "2026-03-02T09:30:00.000Z", "locale": "en", "bundle": None, "events": [],
    }  # fmt: skip
    return phone.post("/api/sync", json=body, headers=own).json


def test_the_phone_draws_start_in_polish_whose_few_and_many_english_lacks(node, shell, reply):
    seen = answer_of(node, DRAWN.format(script=SCRIPT), {"shell": shell("pl"), "reply": reply, "on": ON})
    assert seen["start"] == "Zacznij"
    assert seen["plurals"] == {"1": "1 minuta", "2": "2 minuty", "5": "5 minut", "22": "22 minuty"}
    assert (seen["lang"], seen["dir"]) == ("pl", "ltr")


def test_the_phone_draws_start_in_arabic_from_the_right(node, shell, reply):
    seen = answer_of(node, DRAWN.format(script=SCRIPT), {"shell": shell("ar"), "reply": reply, "on": ON})
    assert seen["start"] == "ابدأ"
    assert seen["plurals"] == {"1": "1 one", "2": "2 two", "5": "5 few", "22": "22 many"}
    assert (seen["lang"], seen["dir"]) == ("ar", "rtl")
    assert seen["number"] == "12"


@pytest.mark.parametrize("tag", ["en", "es", "fr", "pt-BR", *TAGS])
def test_the_phone_tells_the_same_plural_categories_apart_as_the_server(ask, tag):
    category_of = Locale.parse(tag, sep="-").plural_form
    script = "(load, { tag, numbers }) => numbers.map((n) => new Intl.PluralRules(tag).select(n))"
    numbers = [*range(1001), 10**6]
    assert ask(script, tag=tag, numbers=numbers) == [category_of(n) for n in numbers]

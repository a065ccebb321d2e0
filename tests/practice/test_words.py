"""The site's words: every code that the core can hand it has a sentence, and every sentence can be translated."""

import re
from html import unescape

import pytest

from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings
from webapp.dosing.rules import RULES
from webapp.practice.routine_form import TEMPO, TUNING

# Written by the fold and the case page besides the rules of a day.
OTHER_REASONS = ("start", "released", "carried-over")


def _said(site, macro: str, code: str) -> str:
    page = "{% import 'parts/practice_words.html' as words with context %}{{ words[macro](code) }}"
    with site.app.test_request_context("/practice"):
        return site.app.jinja_env.from_string(page).render(macro=macro, code=code, locale="en").strip()


@pytest.mark.parametrize("rule", [*(rule.id for rule in RULES), *OTHER_REASONS])
def test_every_rule_has_a_reason_for_the_practitioner(site, rule):
    said = _said(site, "reason", rule)
    assert said != rule
    assert said.endswith(".")


@pytest.mark.parametrize(
    "name", [*TUNING, *TEMPO, "title", "note", "weights", "usual", "begin", "start_rung", "stretches"]
)
def test_every_entry_of_the_desk_has_a_name(site, name):
    assert _said(site, "label", name) != name


BRACKETED = re.compile(r"\[[^\[\]]*\]")
NAMES = re.compile(
    r"Halfturn|Hedda Marrow|Ansgar Tolle|Isaura Linde|Outer elbow: daily wrist work|Inner elbow: daily wrist work"
)
CALENDAR = re.compile(r"\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun|Jan|Feb|Mar|Apr|UTC)\b|http\S+")


def _bare_letters(page: str) -> str:
    body = page[page.index("<body") :]
    read = re.sub(r"<[^>]*?(?:aria-label|alt|placeholder|title)=\"([^\"]*)\"[^>]*>", r" \1 ", body)
    text = unescape(re.sub(r"<[^>]+>", " ", read))
    while BRACKETED.search(text):
        text = BRACKETED.sub(" ", text)
    return " ".join(re.findall(r"[^\W\d_]{2,}", CALENDAR.sub(" ", NAMES.sub(" ", text))))


@pytest.mark.parametrize(
    "path", ["", "/add", "/cases/ansgar0001", "/cases/ansgar0001/routine", "/sign-in?onward=/practice"]
)
def test_in_the_bracketed_language_no_letters_stand_outside_brackets(site, hedda, path):
    app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=("en-XA",)), site.clock)
    visitor = Visitor(app.test_client())
    if "sign-in" not in path:
        token = hedda.client.get_cookie("halfturn_practice", "127.0.0.1").value
        visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    page = visitor.open(f"/practice{path}")
    assert page.status_code == 200
    assert _bare_letters(page.text) == ""

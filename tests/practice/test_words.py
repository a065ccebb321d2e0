"""The site's words: every code of the core has a sentence, and every sentence can be translated."""

import re
from datetime import timedelta
from html import unescape

import pytest

from tests import builders
from tests.cast import FIRST_DAY
from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings
from webapp.dosing.responses import SHOWN
from webapp.dosing.rules import RULES
from webapp.events import kinds
from webapp.practice.routine.form import TEMPO, TUNING

# Reasons that the fold and the case page write, in addition to the rules of a day.
OTHER_REASONS = ("start", "released", "own-hand", "hand-too-soon", "carried-to-the-bottom", "carried-over")


def _said(site, macro: str, code: str) -> str:
    page = "{% import 'desk/words.html' as words with context %}{{ words[macro](code) }}"
    with site.app.test_request_context("/practice"):
        return site.app.jinja_env.from_string(page).render(macro=macro, code=code, locale="en").strip()


@pytest.mark.parametrize("rule", [*(rule.id for rule in RULES), *OTHER_REASONS])
def test_every_rule_has_a_reason_for_the_practitioner(site, rule):
    said = _said(site, "reason", rule)
    assert said != rule
    assert said.endswith(".")


@pytest.mark.parametrize(
    "name", [*TUNING, *TEMPO, "title", "note", "weights", "usual", "start_rung_right", "start_rung_left", "stretches"]
)
def test_every_entry_of_the_desk_has_a_name(site, name):
    assert _said(site, "label", name) != name


@pytest.mark.parametrize("response", sorted(set(SHOWN.values())))
def test_every_response_has_a_word_of_its_own_at_the_desk(site, response):
    page = "{% import 'desk/marks.html' as marks with context %}{{ marks.response(code) }}"
    with site.app.test_request_context("/practice"):
        template = site.app.jinja_env.from_string(page)
        said = {code: template.render(code=code, locale="en").strip() for code in SHOWN.values()}
    assert said[response]
    assert list(said.values()).count(said[response]) == 1


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


def _in_brackets(site, signed_in):
    """Return a visitor of the site in the language of brackets, signed in with the cookies of another visitor."""
    app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=("en-XA",)), site.clock)
    visitor = Visitor(app.test_client())
    if signed_in:
        token = signed_in.client.get_cookie("halfturn_practice", "127.0.0.1").value
        visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor


@pytest.mark.parametrize(
    "path", ["", "/add", "/cases/ansgar0001", "/cases/ansgar0001/routine", "/sign-in?onward=/practice"]
)
def test_in_the_bracketed_language_no_letters_stand_outside_brackets(site, hedda, path):
    page = _in_brackets(site, None if "sign-in" in path else hedda).open(f"/practice{path}")
    assert page.status_code == 200
    assert _bare_letters(page.text) == ""


def test_sessions_of_every_kind_and_a_hold_have_no_letters_outside_brackets(site, hedda):
    on = FIRST_DAY + timedelta(days=6)
    eased = [{"step": 1, "what": way, "movement": "palm_up"} for way in kinds.EASINGS * 2]
    plain = builders.session(on, 2, seq=1)
    whys = [{"ended": "stopped", "why": why, "done_steps": 3} for why in kinds.WHYS]
    bodies = [{"ways": list(kinds.WAYS)}, {"eased": eased}, {"gaps": [[1, 2], [3, 90]]}, {"gaps": [[1, 2]]}, *whys]
    sent = [{**plain, "id": builders.uuid7(seq), "body": plain["body"] | body} for seq, body in enumerate(bodies, 10)]
    answers = {"where": "wrist", "like": "stab", "sign": True}
    stop = builders.session(on, None, sharp=True, seq=50)
    stop["body"]["sharp_told"] = answers
    signs = builders.event("warning_raised", on, {"sign": "cold_hand", "arms": ["right"]}, seq=51)
    bad = [
        builders.session(on, 9, seq=53),
        builders.morning(on, 8, seq=54),
        builders.morning(on, 8, sharp=True, seq=55),
    ]
    site.begin(site.founder, [*sent, stop, builders.session(on, 1, sharp=True, seq=52), signs, *bad])
    page = _in_brackets(site, hedda).open("/practice/cases/ansgar0001").text
    for first, after in (("sharp-reports", '<div class="columns"'), ("part-sessions", '<div class="column-side"')):
        part = page[page.index(first) : page.index(after)]
        assert _bare_letters(f"<body{part}") == ""

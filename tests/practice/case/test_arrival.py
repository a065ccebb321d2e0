"""The page of an invitation notices how far the phone has come, and has a slip in the client's language."""

import re
from html import unescape

from tests.builders import event, screened, session
from tests.cast import FIRST_DAY
from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings
from webapp.records import invitations

CASE = "/practice/cases/ansgar0001"
OTHER = "en-XA"


def _invited(visitor, kind="link", **more):
    visitor.open(CASE)
    visitor.fill("/invite", {"kind": kind, **more}, post_to=f"{CASE}/invite")
    return unescape(re.search(r'data-arrival="([^"]+)"', visitor.page.text)[1])


def _steps(visitor, address):
    found = visitor.open(address).json
    return [step for step in ("joined", "answered", "received", "trained") if found[step]]


def test_each_step_is_told_once_it_has_happened(site, hedda):
    address = _invited(hedda)
    assert _steps(hedda, address) == []
    site.clock.pass_by(minutes=1)
    site.join_phone(site.founder)
    assert _steps(hedda, address) == ["joined"]
    site.receive(site.founder, [screened(FIRST_DAY, seq=800)])
    assert _steps(hedda, address) == ["joined", "answered"]
    site.receive(site.founder, [event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=900)])
    assert _steps(hedda, address) == ["joined", "answered", "received"]
    site.receive(site.founder, [session(FIRST_DAY)])
    assert _steps(hedda, address) == ["joined", "answered", "received", "trained"]


def test_a_phone_that_joined_before_is_not_taken_for_the_invited_one(site, hedda):
    site.join_phone(site.founder)
    site.clock.pass_by(minutes=1)
    assert "joined" not in _steps(hedda, _invited(hedda))


def test_without_scripts_a_page_says_the_same(site, hedda):
    address = _invited(hedda).replace("arrival.json", "arrival")
    site.clock.pass_by(minutes=1)
    site.join_phone(site.founder)
    hedda.open(address)
    assert "has joined yes" in hedda.text
    assert "routine arrived not yet" in hedda.text


def test_the_slip_has_what_the_client_needs_and_speaks_the_clients_language(site, hedda):
    app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=("en", OTHER)), site.clock)
    visitor = Visitor(app.test_client())
    token = hedda.client.get_cookie("halfturn_practice", "127.0.0.1").value
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    for kind, address in (("link", "/join?locale=en-XA#"), ("code", "/join")):
        _invited(visitor, kind, locale=OTHER)
        slip = visitor.page.text.partition('class="paper-slip"')[2]
        assert "[Hedda Marrow asks you to try a routine." in slip
        assert "[It works once, until" in slip
        assert address in slip


def test_the_link_can_be_selected_and_the_buttons_that_need_a_script_wait_for_it(hedda):
    _invited(hedda)
    assert re.search(r'<input id="link" class="secret" readonly value="http', hedda.page.text)
    for button in ("data-copy", "data-print"):
        assert re.search(rf"<button type=\"button\" {button}[^>]* hidden>", hedda.page.text)


def test_until_a_phone_is_invited_the_page_says_at_its_top_what_comes_next(site, hedda):
    hedda.open("/practice/cases/ansgar0001")
    assert "The routine has not gone out yet" not in hedda.text, "an invitation is open"
    for invitation in invitations.open_of(site.db, site.founder.id, site.clock()):
        invitations.withdraw(site.db, site.founder.id, invitation.id)
    hedda.open("/practice/cases/ansgar0001")
    assert 'href="#part-phones">Invite the phone<' in hedda.page.text
    site.begin(site.founder, [])
    hedda.open("/practice/cases/ansgar0001")
    assert "The routine has not gone out yet" not in hedda.text

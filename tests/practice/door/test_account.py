"""The practitioner's account: the name, how clients reach them, and the language of the desk.

Before a language is chosen, it is the served one that the browser prefers.
"""

import pytest

from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings

OTHER = "en-XA"
LANGUAGES = ("en", OTHER)


def _at_a_desk_of(site, signed_in, *locales):
    """A visitor of the same records where these languages are served, with the cookies of another visitor."""
    app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=locales), site.clock)
    visitor = Visitor(app.test_client())
    token = signed_in.client.get_cookie("halfturn_practice", "127.0.0.1").value
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor


@pytest.fixture
def desk(site, hedda):
    return _at_a_desk_of(site, hedda, *LANGUAGES)


def test_a_practitioner_chooses_the_language_of_the_desk_and_keeps_it(site, hedda, desk):
    assert '<html lang="en"' in desk.open("/practice").text
    desk.open("/practice/account")
    page = desk.fill("", {"locale": OTHER}, post_to="/practice/account").text
    assert f'<html lang="{OTHER}"' in page
    assert "[Saved. Your clients’ phones show it after their next contact with the server. ~" in page
    assert f'<html lang="{OTHER}"' in _at_a_desk_of(site, hedda, *LANGUAGES).open("/practice").text


def test_a_language_that_is_served_no_more_gives_way_to_one_that_is(site, hedda, desk):
    desk.open("/practice/account")
    desk.fill("", {"locale": OTHER}, post_to="/practice/account")
    assert '<html lang="en"' in _at_a_desk_of(site, hedda, "en").open("/practice").text


def test_the_account_is_on_every_page_and_offers_a_language_only_where_there_are_several(desk, hedda):
    assert "/practice/account" in hedda.open("/practice").text
    hedda.open("/practice/account")
    desk.open("/practice/account")
    assert "locale" in desk.form()
    assert "locale" not in hedda.form()


def test_a_language_that_nobody_serves_changes_nothing(desk):
    desk.open("/practice/account")
    assert desk.send("/practice/account", {**desk.form().to_dict(), "locale": "../tlh"}).status_code == 400
    assert '<html lang="en"' in desk.open("/practice").text


def test_a_form_without_its_token_changes_nothing_and_says_so(desk):
    page = desk.send("/practice/account", {"locale": OTHER, "name": "Hedda", "telephone": "555 0102"}, follow=True).text
    assert '<html lang="en"' in page
    assert "Please send it once more" in page
    assert "555 0102" in page
    assert desk.open("/practice/account").text.count("555 0102") == 0


@pytest.mark.parametrize(("preferred", "tag"), [("en-XA,en;q=0.5", OTHER), ("tlh", "en"), ("en-GB", "en")])
def test_before_anybody_signs_in_the_browser_says_the_language(site, preferred, tag):
    app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=LANGUAGES), site.clock)
    page = app.test_client().get("/practice/sign-in", headers={"Accept-Language": preferred}).text
    assert f'<html lang="{tag}"' in page


def test_the_invitation_says_in_which_language_the_phone_opens(desk):
    case = "/practice/cases/ansgar0001"
    desk.open(case)
    assert desk.form("/invite")["locale"] == "en"
    page = desk.fill("/invite", {"locale": OTHER, "kind": "link"}, post_to=f"{case}/invite").text
    assert f"/join?locale={OTHER}#" in page
    desk.open(case)
    assert desk.form("/invite")["locale"] == OTHER


def test_where_one_language_is_served_an_invitation_names_none(hedda):
    case = "/practice/cases/ansgar0001"
    hedda.open(case)
    assert "locale" not in hedda.form("/invite")
    page = hedda.fill("/invite", {"kind": "link", "locale": OTHER}, post_to=f"{case}/invite").text
    assert "/join#" in page

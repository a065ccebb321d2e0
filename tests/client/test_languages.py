"""Languages of a phone: the landing page, the shell and every answer are in the one that the phone says, if it is served."""

import re

import pytest

from tests.client.conftest import Phone
from webapp.app import create_app
from webapp.config import Settings
from webapp.records import cases

OTHER = "en-XA"


@pytest.fixture
def app(db, db_path, clock):
    return create_app(Settings(db=db_path, locales=("en", OTHER)), clock)


@pytest.mark.parametrize(
    ("address", "preferred", "tag"),
    [
        ("/join", "en", "en"),
        ("/join?locale=en-XA", "en", OTHER),
        ("/join?locale=tlh", "en", "en"),
        ("/join?locale=" + "x" * 900, OTHER, OTHER),
        ("/", OTHER, OTHER),
    ],
)
def test_the_landing_page_opens_in_the_language_of_its_link(app, address, preferred, tag):
    page = app.test_client().get(address, headers={"Accept-Language": preferred}).text
    assert f'<html lang="{tag}"' in page


def test_a_phone_joins_in_the_language_of_its_client(app, db, ansgar):
    cases.choose_locale(db, ansgar.id, OTHER)
    assert Phone(app).join(token=ansgar.token).json["locale"] == OTHER


def test_a_client_whose_language_is_served_no_more_gets_the_default(app, db, ansgar):
    cases.choose_locale(db, ansgar.id, "tlh")
    assert Phone(app).join(token=ansgar.token).json["locale"] == "en"


def test_two_phones_of_one_client_each_have_a_language(app, db, phone, ansgar):
    plain = phone.sync(locale="en").json
    other = phone.sync(locale=OTHER).json
    again = phone.sync(locale="en", bundle=plain["bundle_hash"]).json
    assert (plain["bundle"]["locale"], other["bundle"]["locale"]) == ("en", OTHER)
    assert (again["bundle"], again["bundle_hash"]) == (None, plain["bundle_hash"])
    assert plain["anchors"] == other["anchors"]


@pytest.mark.parametrize("locale", ["", "tlh", "../../en", "x" * 100_000, "en\0", "EN", "ⅇn"])
def test_a_language_that_is_not_served_is_the_clients_own_and_is_kept_nowhere(app, db, phone, locale):
    assert phone.sync(locale=locale).json["bundle"]["locale"] == "en"
    assert [row[0] for row in db.execute("SELECT DISTINCT locale FROM bundles").fetchall()] == ["en"]


@pytest.mark.parametrize("locale", [7, None, ["en"], {"en": 1}])
def test_a_language_that_is_no_text_is_refused_in_words(phone, locale):
    refused = phone.sync(locale=locale)
    assert refused.status_code == 400
    assert refused.json["error"]["code"] == "bad_request"


def test_a_refused_batch_is_answered_in_the_language_of_the_batch(phone):
    refused = phone.sync(locale=OTHER, format=99).json["error"]
    assert refused["message"].startswith("[")
    assert not phone.sync(locale="en", format=99).json["error"]["message"].startswith("[")


def test_before_a_batch_is_read_the_answer_is_in_the_language_that_the_phone_asks_for(stranger):
    refused = stranger.sync(headers={"Sec-Fetch-Site": "same-origin", "Accept-Language": OTHER})
    assert refused.status_code == 401
    assert refused.json["error"]["message"].startswith("[")


def test_the_address_of_a_language_that_is_served_no_more_leads_to_the_app(app):
    answer = app.test_client().get("/app/tlh/", headers={"Accept-Language": "en"})
    assert (answer.status_code, answer.headers["Location"]) == (302, "/app/en/")


def test_the_shell_names_each_language_in_itself_where_there_are_several(app, db_path, clock):
    assert 'value="en-XA"' in later_templates(app)
    assert "data-language" not in later_templates(create_app(Settings(db=db_path), clock))


def later_templates(app):
    browser = app.test_client()
    address = re.search(r'data-later="(/[^"]+)"', browser.get("/app/en/").text)[1]
    return browser.get(address).text

"""Every page of the desk opens in every language that is installed, over a client with days, sessions, a hold and a routine."""

from datetime import date

import pytest

from tests import builders
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist
from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings, content_dir
from webapp.words import locales_in

LANGUAGES = locales_in(content_dir() / "locale")
PAGES = [
    "", "/add", "/account", "/sign-in",
    *(f"/cases/{client}{page}" for client in ("ansgar0001", "isaura0001") for page in ("", "/account", "/routine")),
]  # fmt: skip


@pytest.fixture
def desk_in(site, hedda):
    """Call it with a tag: the desk in that language, with Hedda signed in."""

    def in_language(tag):
        app = create_app(Settings(db=site.app.extensions["halfturn"].settings.db, locales=(tag, "en")), site.clock)
        visitor = Visitor(app.test_client())
        token = hedda.client.get_cookie("halfturn_practice", "127.0.0.1").value
        visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
        visitor.client.environ_base["HTTP_ACCEPT_LANGUAGE"] = tag
        return visitor

    return in_language


@pytest.mark.parametrize("tag", LANGUAGES)
def test_every_page_of_the_desk_opens(site, desk_in, tag):
    hold_cellist(site)
    days = builders.days_of(FIRST_DAY, [(1, 1), (2, 1), (3, 2), (9, 4)])
    site.begin(site.founder, [*days, builders.session(date(2026, 3, 8), 2, seq=77)])
    desk = desk_in(tag)
    for path in PAGES:
        page = desk.open(f"/practice{path}", follow=True)
        assert page.status_code == 200, path
        assert f'<html lang="{tag}"' in page.text, path

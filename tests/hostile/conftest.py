"""The fixtures of tests/practice: the site with the cast in it; and the same site with content on every page."""

from hashlib import sha256

import pytest

from tests.hostile.world import World, furnish
from tests.practice import conftest
from webapp.records import practitioners

furnished, site = conftest.furnished, conftest.site


@pytest.fixture
def world(site) -> World:
    """Hedda, signed in, on a site where every page has content."""
    made, token = furnish(site), "hedda-signed-in"
    digest = sha256(token.encode()).hexdigest()
    practitioners.begin_sign_in(site.db, site.hedda.id, digest, site.clock(), site.clock())
    made.browser.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    made.ask("/practice")
    made.keep()
    return made


@pytest.fixture
def door(site) -> World:
    """The same site, with nobody signed in."""
    made = furnish(site)
    made.ask("/practice/sign-in")
    made.keep()
    return made

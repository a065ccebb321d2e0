"""What a first visit costs, from the invitation to a page that is kept: every request that comes over the wire is counted."""

import re
from collections import Counter

import pytest
from playwright.sync_api import expect

from e2e.counting import counting
from e2e.phone import Phone
from e2e.screens import JoinPage
from e2e.server import HOST, free_port
from e2e.sizes import SIZES, WAIT_MILLISECONDS, phone_options
from tests.cast import BELL_FOUNDER

KEPT = re.compile("^Kept on this phone")
MOST_REQUESTS = 30


@pytest.fixture
def wire(server):
    """The server again, with a wire in front of it that counts."""
    server.kill()
    listens = free_port()
    server.settings["HALFTURN_LISTEN"] = f"{HOST}:{listens}"
    with counting(int(server.origin.rpartition(":")[2]), listens) as wire:
        server.start()
        wire.requests.clear()
        yield wire


def test_a_first_visit_makes_few_requests_and_fetches_nothing_twice(browser, server, practice, evening, wire):
    context = browser.new_context(**phone_options(*SIZES[-1]), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    phone = Phone.switched_on(context, evening)
    token = practice.enrol(BELL_FOUNDER).token
    wire.requests.clear()
    phone.page.goto(f"/join#{token}")
    JoinPage(phone.page).accept.tap()
    expect(phone.day.start).to_be_visible()
    expect(phone.day.kept).to_have_text(KEPT)
    context.close()

    fetched = [request for request in wire.requests if request.startswith("GET ")]
    assert {"GET /app/en/", "GET /app/service_worker.js?locale=en"} <= set(fetched)
    assert [request for request, often in Counter(fetched).items() if often > 1] == []
    assert len(wire.requests) <= MOST_REQUESTS

"""The way back to sport or work: opened at the desk, followed by a phone without a network, by how each morning is."""

import re
from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER


class WayScreen:
    """The page of the way back."""

    def __init__(self, phone):
        self.phone, self.page = phone, phone.page
        self.line = phone.page.locator("#page [data-part=later] [data-way]")
        self.screen = phone.page.locator("body[data-screen=returning] #page")
        self.state = self.screen.locator("[data-slot=state]")

    def open(self):
        self.phone.open()
        self.line.get_by_role("link").tap()
        expect(self.state).to_be_visible()

    def go_out(self, worst):
        """Tell of sport as the step allows it."""
        self.open()
        self.screen.locator(f"input[name=worst_right][value='{worst}']").tap()
        self.screen.get_by_role("button", name="Save the sport").tap()
        expect(self.line).to_contain_text("noted for today")

    def wake(self, pain):
        self.phone.sleep_until_morning()
        self.phone.report_morning(pain)


@pytest.fixture
def way(one_phone, joined, practice):
    """A phone whose practitioner has opened a way back today, before the network is gone."""
    client = joined(one_phone, BELL_FOUNDER)
    practice.open_way(client.id, "hard_grip", one_phone.today)
    one_phone.send()
    one_phone.client = client
    return WayScreen(one_phone)


def test_an_outing_a_tender_morning_and_the_next_step_after_a_settled_week(way, practice, server):
    server.kill()
    way.open()
    expect(way.state).to_have_text("Sport is possible today")
    expect(way.screen).to_contain_text("At most 5 minutes.")
    assert not faults(way.page)
    way.go_out(2)
    way.wake(3)
    way.open()
    expect(way.state).to_have_text("No sport today")
    expect(way.screen).to_contain_text("The morning after was tender: the same step again, once a morning is calm.")
    way.wake(1)
    way.go_out(2)
    way.wake(1)
    # At most two outings of seven days on this step, the one that failed among them.
    way.phone.sleep_until(way.phone.now + timedelta(days=4))
    way.go_out(3)
    way.wake(1)
    # The short sessions of the first week come together meanwhile, which is a larger dose: three days later the step may go up.
    way.phone.sleep_until(way.phone.now + timedelta(days=7))
    way.open()
    expect(way.screen.locator("[data-slot=about]")).to_contain_text(re.compile(r"Step 2 of 7"))
    server.start()
    way.phone.open()
    way.phone.send()
    seen = practice.way(way.phone.client.id, way.phone.today)
    assert (seen.step, seen.is_allowed) == (2, True)

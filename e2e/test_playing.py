"""'I am playing today': noted with what, how long and from when, seen on the day page and on the case page."""

import re

from playwright.sync_api import expect

from e2e.phone_reading import EVENTS
from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER


def test_sport_is_noted_planned_then_done_and_corrected_in_one_entry(one_phone, joined):
    phone, page = one_phone, one_phone.page
    joined(phone, BELL_FOUNDER)
    later = page.locator("#page [data-part=later]")
    later.get_by_text("I am playing today").tap()
    form = page.locator("body[data-screen=playing] form")
    form.get_by_role("button", name="Note it").tap()
    expect(form.locator("[data-fault]")).to_contain_text("Choose what you play")
    form.get_by_text("Climbing").tap()
    form.get_by_text("90", exact=True).tap()
    form.locator("[name=begins]").fill("20:30")
    expect(form.locator(".day-mark-sport")).to_be_visible()
    assert not faults(page)
    form.get_by_role("button", name="Note it").tap()
    expect(later).to_contain_text("Sport: Climbing · 90 minutes · from 20:30 · planned")
    later.get_by_text("The sport is done").tap()
    expect(later.locator("[data-slot=sport]")).to_have_text(re.compile("20:30\\.$"))
    later.get_by_text("Change the sport").tap()
    form.locator("[name=minutes]").fill("45")
    form.get_by_role("button", name="Note it").tap()
    expect(later).to_contain_text("Climbing · 45 minutes")
    later.get_by_text("Change the sport").tap()
    form.get_by_role("button", name="Not playing after all").tap()
    expect(later.locator("[data-slot=sport]")).to_be_hidden()
    noted = [event["body"] for event in page.evaluate(EVENTS) if event["kind"] == "exposure_noted"]
    assert len(noted) == 1, noted

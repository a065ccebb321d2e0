"""The one habit that the practitioner chose: it comes with the sync, is ticked without a network, and may be said not to suit."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CasePage, RoutinePage
from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER


@pytest.mark.long
def test_a_chosen_habit_is_ticked_on_the_phone_and_seen_at_the_desk(desk, server, one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    CasePage(hedda.page).unfold("habit")
    hedda.page.get_by_role("link", name="Choose one with the routine").click()
    routine = RoutinePage(hedda.page)
    routine.habit.select_option(label="Warmth for a stiff arm")
    routine.settle()
    assert not faults(hedda.page)
    hedda.page.get_by_role("button", name="Set the habit").click()
    expect(hedda.page.get_by_text("The habit is chosen.")).to_be_visible()
    one_phone.send()
    server.kill()
    one_phone.open()
    habit = one_phone.page.locator("#page [data-part=habit]")
    expect(habit).to_contain_text("Not in the first days after a fresh injury")
    assert not faults(one_phone.page)
    habit.get_by_role("button", name="Done today").tap()
    expect(habit.locator("[data-kept]")).to_have_count(1)
    habit.get_by_role("button", name="Done today").tap()
    expect(habit.locator("[data-kept]")).to_have_count(0)
    habit.get_by_role("button", name="Done yesterday").tap()
    habit.get_by_role("button", name="This one does not suit me").tap()
    expect(habit).to_contain_text("may choose another one")
    server.start()
    one_phone.send()
    hedda.page.reload()
    expect(hedda.page.get_by_text("does not suit them")).to_be_visible()

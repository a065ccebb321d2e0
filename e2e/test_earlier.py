"""Earlier days as they were: from the day page to yesterday, further back, and no further than there is something."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.past_pages import EarlierScreen
from e2e.test_accessible import faults, is_wider_than_the_screen
from e2e.test_weeks import MORNINGS, PUT, past_of
from tests.cast import BELL_FOUNDER

FEW = MORNINGS[:6]


@pytest.fixture
def phone_with_a_past(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    one_phone.page.evaluate(PUT, past_of(one_phone.today, FEW))
    one_phone.open()
    return one_phone


def test_yesterday_is_shown_as_it_was_and_the_days_before_it_one_by_one(phone_with_a_past):
    phone = phone_with_a_past
    earlier = EarlierScreen(phone.page)
    earlier.way.tap()
    expect(earlier.about).to_have_text(f"Day {len(FEW) - 1}, as it was")
    expect(earlier.mornings).to_contain_text(str(FEW[-2]))
    reps = 8 + (len(FEW) - 2) % 3
    expect(earlier.rows).to_have_text(
        [f"{name}{reps}{reps}" for name in ("Palm down", "Palm up", "Thumb up", "Little finger up")]
    )
    expect(earlier.classed).to_contain_text("Not classed yet")
    assert faults(phone.page) == {}
    assert not is_wider_than_the_screen(phone.page)
    for _ in FEW[1:-1]:
        earlier.before.tap()
    expect(earlier.about).to_have_text("Day 1, as it was")
    expect(earlier.before).to_be_hidden()
    expect(earlier.classed).to_contain_text("The next session")


@pytest.mark.long
def test_no_day_is_shown_before_the_first_or_after_yesterday(phone_with_a_past):
    phone = phone_with_a_past
    earlier = EarlierScreen(phone.page)
    for days, reason in ((len(FEW), "your first day was"), (-2, "not over yet"), (0, "not over yet")):
        phone.page.goto(f"{phone.shell}#earlier?on={phone.today - timedelta(days)}")
        expect(earlier.none).to_contain_text(reason)
        expect(earlier.sessions).to_have_count(0)

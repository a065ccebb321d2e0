"""The second session of a day: when it may begin, what is said of one that is too early, and a day with time for one."""

from datetime import UTC, datetime, time, timedelta

import pytest
from playwright.sync_api import expect

from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER

MORNING, LATE = time(8), time(19)
# The rule of the first week (RULES of the practice): short sessions lie four hours apart.
APART = timedelta(hours=4)


@pytest.fixture
def phone(one_phone, joined):
    """A phone on the morning after it was joined."""
    joined(one_phone, BELL_FOUNDER)
    one_phone.sleep_until_morning()
    one_phone.report_morning(1)
    one_phone.sleep_until(datetime.combine(one_phone.today, MORNING, UTC))
    return one_phone


def test_the_second_session_is_offered_when_its_hours_are_over_and_before_that_only_after_a_question(phone):
    phone.do_session(worst=1)
    session = phone.day.session
    expect(session.locator("[data-slot=state]")).to_contain_text("Again from 12:")
    expect(session.locator(".day-mark-done")).to_be_visible()
    expect(session.locator(".day-mark-possible")).to_be_visible()
    expect(session.locator("button.do")).to_be_hidden()
    phone.day.early.tap()
    assert not faults(phone.page)
    expect(session.locator("[data-slot=early]")).to_contain_text("Leave 4 hours between two sessions")
    phone.day.wait.tap()
    expect(phone.day.start_early).to_be_hidden()
    phone.sleep_until(phone.now + APART)
    expect(phone.day.start).to_be_visible()


@pytest.mark.long
def test_after_an_evening_session_the_second_is_better_left_and_a_night_brings_the_next_day(phone):
    phone.sleep_until(datetime.combine(phone.today, LATE, UTC))
    phone.do_session(worst=1)
    state = phone.day.session.locator("[data-slot=state]")
    expect(state).to_have_text("Better left for today")
    # The page stays open; at one o'clock at night it is still the same day, at three the next one begins.
    phone.context.clock.fast_forward(int(timedelta(hours=6) / timedelta(milliseconds=1)))
    expect(state).to_have_text("Better left for today")
    phone.context.clock.fast_forward(int(timedelta(hours=2, minutes=1) / timedelta(milliseconds=1)))
    expect(phone.day.save_morning).to_be_visible()
    expect(state).to_be_hidden()


@pytest.mark.long
def test_a_clock_that_is_set_back_is_said_and_keeps_nobody_waiting_for_days(phone):
    phone.do_session(worst=1)
    phone.context.clock.set_system_time(phone.now - timedelta(hours=2))
    phone.open()
    expect(phone.day.start).to_be_visible()
    expect(phone.day.session.locator("[data-slot=unknown]")).to_contain_text("clock was changed")

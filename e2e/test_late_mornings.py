"""Mornings that were left out, days away, and soreness that lasts: told late on the phone, without blame."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER

TAPS_OF_A_MORNING = 3
"""One arm: the number, no sharp pain, save."""
COUNT_TAPS = "window.taps = 0; addEventListener('pointerdown', () => { window.taps += 1; }, true)"


@pytest.fixture
def phone(one_phone, joined):
    """A phone that has been joined in the evening."""
    one_phone.client = joined(one_phone, BELL_FOUNDER)
    return one_phone


def test_a_morning_takes_three_taps_and_one_that_was_left_out_can_be_told_later_with_no_network(
    phone, server, practice
):
    server.kill()
    for _ in range(2):
        phone.sleep_until_morning()
    phone.page.evaluate(COUNT_TAPS)
    phone.report_morning(1)
    assert phone.page.evaluate("window.taps") == TAPS_OF_A_MORNING
    before = phone.standing()["right"]

    day = phone.day
    day.mornings.locator("summary").tap()
    expect(day.mornings).to_contain_text("1 is missing")
    day.mornings.get_by_text("Tell it now").tap()
    expect(day.late_title).to_have_text("A morning that is missing")
    assert not faults(phone.page)
    day.late_pain("right", 8).tap()
    day.late_sharp("right", "no").tap()
    day.late_save.tap()
    expect(phone.page.locator("#page")).to_contain_text("Then save once more.")
    day.late_save.tap()
    expect(day.stopped).to_be_visible()
    after = phone.standing()["right"]
    assert (before["mode"], after["mode"]) == ("training", "held")

    server.start()
    phone.send()
    assert practice.standing(phone.client.id, phone.today)["right"]["mode"] == "held"
    (late,) = [event for event in practice.log(phone.client.id) if event["body"].get("late")]
    assert late["on"] == (phone.today - timedelta(days=1)).isoformat()


@pytest.mark.long
def test_a_morning_before_today_is_corrected_and_the_day_follows(phone):
    phone.sleep_until_morning()
    phone.report_morning(6)
    phone.sleep_until_morning()
    eased = phone.standing()["right"]
    phone.day.mornings.locator("summary").tap()
    phone.day.mornings.get_by_text("Correct").tap()
    phone.day.late_pain("right", 1).tap()
    phone.day.late_save.tap()
    expect(phone.day.title).to_be_visible()
    assert phone.standing()["right"] != eased


@pytest.mark.long
def test_a_morning_before_today_that_stopped_the_arm_stays_as_it_was_told(phone):
    phone.sleep_until_morning()
    phone.report_morning(9)
    expect(phone.day.stopped).to_be_visible()
    phone.sleep_until_morning()
    phone.day.mornings.locator("summary").tap()
    phone.day.mornings.get_by_text("Correct").tap()
    expect(phone.page.locator("#page")).to_contain_text("only your practitioner ends a stop")
    expect(phone.day.late_save).to_be_hidden()
    phone.page.get_by_text("Write a letter").tap()
    expect(phone.page.locator("body[data-screen=letters]")).to_be_attached()


@pytest.mark.long
def test_after_a_week_away_the_phone_asks_what_it_was_and_what_happened(phone):
    for _ in range(9):
        phone.sleep_until_morning()
    away = phone.day.away
    expect(away).to_contain_text("What were those days?")
    assert not faults(phone.page)
    phone.report_morning(1)
    expect(phone.day.start).to_be_hidden()
    away.get_by_text("Ill", exact=True).tap()
    away.get_by_text("Fever").tap()
    away.locator("[data-act=save]").tap()
    expect(phone.page.locator("body[data-screen=warnings]")).to_be_attached()
    phone.open()
    expect(away).to_contain_text("You told of this: fever")
    expect(phone.day.start).to_be_visible()


@pytest.mark.long
def test_days_away_may_be_left_out_and_are_not_asked_again(phone):
    for _ in range(5):
        phone.sleep_until_morning()
    phone.day.away.locator("[data-act=put_off]").tap()
    expect(phone.day.away).to_be_hidden()
    phone.open()
    expect(phone.day.away).to_be_hidden()

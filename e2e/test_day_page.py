"""The day page: what stands first, that its counts can be read, that it shows what Start will play, and says what is saved."""

from dataclasses import replace

import pytest
from playwright.sync_api import expect

from tests.cast import BELL_FOUNDER

# A count of one line is no higher than its letters and a little more.
BROKEN = """all => all.filter((one) => one.offsetHeight > 1.5 * parseFloat(getComputedStyle(one).fontSize))
  .map((one) => one.innerText)"""
TEXT = "size => { document.documentElement.style.fontSize = size; }"


@pytest.fixture
def small_phone(one_phone):
    one_phone.page.set_viewport_size({"width": 360, "height": 640})
    return one_phone


@pytest.mark.parametrize("text", ["", "212.5%"], ids=["usual text", "text twice as large"])
def test_a_count_of_two_figures_stays_on_one_line(small_phone, practice, text):
    small_phone.join_by_link(practice.enrol(replace(BELL_FOUNDER, start_rung=12)).token)
    small_phone.page.evaluate(TEXT, text)
    assert max(map(int, small_phone.day.reps.all_inner_texts())) > 9
    assert small_phone.day.reps.evaluate_all(BROKEN) == []


def test_on_the_first_day_the_way_back_to_an_open_session_comes_first(small_phone, practice):
    small_phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    small_phone.begin_session()
    small_phone.play(15)
    small_phone.open()
    expect(small_phone.day.caution).to_be_visible()
    expect(small_phone.day.go_on).to_be_in_viewport(ratio=1)

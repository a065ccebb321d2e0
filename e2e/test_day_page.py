"""The day page: what stands first, that its counts can be read, that it shows what Start will play, and says what is saved."""

import re
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS, RUN
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER, BOOKBINDER, CELLIST

# A count of one line is no higher than its letters and a little more.
BROKEN = """all => all.filter((one) => one.offsetHeight > 1.5 * parseFloat(getComputedStyle(one).fontSize))
  .map((one) => one.innerText)"""
A_REP = 6
SOFT_SECONDS = 20
"""Own choice, no source: the longest hold of the soft stretch."""
TEXT = "size => { document.documentElement.style.fontSize = size; }"


@pytest.fixture
def small_phone(one_phone):
    one_phone.page.set_viewport_size({"width": 360, "height": 640})
    return one_phone


@pytest.mark.parametrize("text", ["", "212.5%"], ids=["usual text", "text twice as large"])
def test_a_count_of_two_figures_stays_on_one_line(small_phone, joined, text):
    joined(small_phone, replace(BELL_FOUNDER, start_rung=11))
    small_phone.page.evaluate(TEXT, text)
    assert max(map(int, small_phone.day.reps.all_inner_texts())) > 9
    assert small_phone.day.reps.evaluate_all(BROKEN) == []


def test_on_the_first_day_the_way_back_to_an_open_session_comes_first(small_phone, joined):
    joined(small_phone, BELL_FOUNDER)
    small_phone.begin_session()
    small_phone.play(15)
    small_phone.open()
    expect(small_phone.day.caution).to_be_visible()
    expect(small_phone.day.go_on).to_be_in_viewport(ratio=1)


@pytest.mark.long
def test_each_stretch_is_told_and_held_for_its_own_seconds(small_phone, joined):
    joined(small_phone, CELLIST)
    expect(small_phone.page.get_by_text("Then 2 stretches of 20 and 35 seconds.")).to_be_visible()
    small_phone.begin_session()
    small_phone.stand_still()
    small_phone.skip_to("hold")
    expect(SessionScreen(small_phone.page).title).to_have_text("Soft stretch, palm up")
    held = [step["seconds"] for step in small_phone.page.evaluate(RUN)["plan"]["steps"] if step["kind"] == "hold"]
    assert held == [SOFT_SECONDS, 35]
    small_phone.play(1)
    expect(small_phone.page.get_by_text("Soft stretch, palm up: 20 seconds.", exact=True)).to_be_visible()


def test_a_movement_that_must_not_be_done_with_tingling_says_so_under_ease_off(small_phone, joined):
    joined(small_phone, BELL_FOUNDER)
    small_phone.begin_session()
    small_phone.stand_still()
    small_phone.skip_to("reps")
    session = SessionScreen(small_phone.page)
    session.ease_off.tap()
    expect(session.form_cues.first).to_have_text(
        "Leave this movement out while the hand tingles, and tell your practitioner."
    )


@pytest.mark.long
@pytest.mark.parametrize("part", ["short", "before_sport"])
def test_the_counts_and_the_minutes_are_those_that_start_plays(small_phone, joined, part):
    phone = small_phone
    joined(phone, replace(BELL_FOUNDER, start_rung=12))
    phone.check_sound()
    whole = phone.day.reps.all_inner_texts()
    session = phone.open_session()
    session.ways.tap()
    session.way("part", part).tap()
    session.stop.tap()
    expect(phone.day.reps.first).not_to_have_text(whole[0])
    shown = [phone.day.reps.all_inner_texts(), phone.day.loads.all_inner_texts()]
    length = phone.day.length.inner_text()
    phone.day.start.tap()
    expect(session.running).to_be_visible()
    phone.play(1)
    steps = phone.page.evaluate(RUN)["plan"]["steps"]
    sets = [step for step in steps if step["kind"] == "reps"]
    assert shown == [[str(step["reps"]) for step in sets], [step["load"] for step in sets]]
    assert length == f"1 of 2 · {round(sum(step['seconds'] for step in steps) / 60)} minutes"


def test_of_two_arms_the_one_that_start_plays_is_shown(small_phone, joined):
    joined(small_phone, BOOKBINDER)
    session = small_phone.open_session()
    session.ways.tap()
    session.way("arms", "left").tap()
    session.stop.tap()
    expect(small_phone.day.arms).to_have_text(["left arm"])


def test_what_is_saved_is_seen_first_with_what_is_still_to_come(small_phone, joined):
    phone = small_phone
    joined(phone, BELL_FOUNDER)
    expect(phone.day.saved).to_be_hidden()
    for line in (phone.day.saved, phone.day.in_part):
        do_some(phone)
        expect(line).to_be_in_viewport(ratio=1)
        expect(phone.day.session_title).to_be_focused()
        expect(phone.day.morning).not_to_be_in_viewport()
        if line is phone.day.saved:
            expect(line).to_have_text("Session 1 of 2 is saved.")


@pytest.mark.long
def test_of_two_arms_it_is_said_which_ones_session_is_saved(small_phone, joined):
    joined(small_phone, BOOKBINDER)
    session = small_phone.open_session()
    session.ways.tap()
    session.way("arms", "left").tap()
    session.stop.tap()
    do_some(small_phone, "left")
    expect(small_phone.day.saved).to_have_text(re.compile(r"^Session 1 of \d is saved: left arm\.$"))


def do_some(phone, arm="right", worst=1):
    """Do a rep of today's session, skip the rest, and rate it, or leave it without a number."""
    phone.begin_session()
    phone.stand_still()
    phone.skip_to("reps")
    phone.play(A_REP)
    phone.skip_to("hold")
    phone.skip_to_the_end()
    if worst is not None:
        return phone.rate({arm: worst})
    AfterScreen(phone.page).save.tap()
    AfterScreen(phone.page).unrated.tap()
    return expect(phone.day.title).to_be_visible()


IS_ABOVE = "([one, other]) => Boolean(one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING)"


def test_why_stands_above_the_drawings_and_above_start(small_phone, joined):
    joined(small_phone, BELL_FOUNDER)
    expect(small_phone.day.why).to_have_text("Why: This is your first day.")
    why = small_phone.day.why.element_handle()
    for below in (small_phone.day.reps.first, small_phone.day.start):
        assert small_phone.page.evaluate(IS_ABOVE, [why, below.element_handle()])


def test_after_the_morning_is_saved_the_page_stays_at_its_answer(small_phone, joined):
    phone = small_phone
    joined(phone, BELL_FOUNDER)
    do_some(phone)
    phone.sleep_until_morning()
    phone.report_morning(1)
    expect(phone.day.reported).to_be_in_viewport(ratio=1)
    expect(phone.day.why).to_be_in_viewport(ratio=1)
    expect(phone.day.morning_title).to_be_focused()


def test_a_stop_stands_above_the_mornings_questions_and_takes_the_eye(small_phone, joined):
    phone = small_phone
    joined(phone, BOOKBINDER)
    phone.report_morning({"right": 8, "left": 1})
    expect(phone.day.held_arms).to_have_text(["Stopped: right arm"])
    expect(phone.day.held_arms).to_be_in_viewport(ratio=1)
    assert phone.page.evaluate(IS_ABOVE, [phone.day.stop.element_handle(), phone.day.morning.element_handle()])
    expect(phone.day.start).to_be_visible()


@pytest.mark.long
def test_a_rating_that_was_left_out_is_asked_for_once_more_and_classes_the_day_anew(small_phone, practice, joined):
    phone = small_phone
    client = joined(phone, BELL_FOUNDER)
    for worst in (None, 1):
        do_some(phone, worst=worst)
    phone.sleep_until_morning()
    expect(phone.day.morning_worst("right", 7)).to_be_visible()
    phone.day.morning_worst("right", 7).tap()
    phone.report_morning(1)
    [corrected] = [each["body"] for each in phone.page.evaluate(EVENTS) if each["kind"] == "entry_corrected"]
    assert corrected["body"]["arms"]["right"]["worst"] == 7
    assert corrected["body"]["asked_steps"] > 0
    expect(phone.day.rest).to_be_visible()
    assert phone.standing()["right"]["response"] == "flared"
    phone.send()
    assert practice.standing(client.id, phone.today)["right"]["mode"] == "resting"
    expect(phone.day.morning_worst("right", 7)).to_be_hidden()


def test_where_every_rep_was_left_out_nothing_is_called_done(small_phone, joined):
    phone = small_phone
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    phone.stand_still()
    phone.skip_to("reps")
    phone.play(1)
    phone.skip_to_the_end()
    after = AfterScreen(phone.page)
    expect(after.title).to_have_text("Nothing was done")
    after.worst("right", 1).tap()
    after.save.tap()
    expect(phone.day.start).to_be_visible()
    for line in (phone.day.saved, phone.day.done, phone.day.in_part):
        expect(line).to_be_hidden()


def test_sharp_pain_is_asked_for_since_the_last_report(small_phone, joined):
    phone = small_phone
    joined(phone, BELL_FOUNDER)
    expect(phone.day.morning).to_contain_text("In the last days,")
    phone.report_morning(1)
    for _ in range(4):
        phone.sleep_until_morning()
    expect(phone.day.morning).to_contain_text("Since your last report, on")
    phone.report_morning(1)
    phone.sleep_until_morning()
    expect(phone.day.morning).to_contain_text("Since yesterday,")

"""The practitioner plays a routine version at the desk: at any speed, as the phone plays it, with nothing logged."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import RehearsalPage
from e2e.phone import QUIET_SOUND
from e2e.test_accessible import faults, is_wider_than_the_screen
from tests.cast import BELL_FOUNDER

SECOND = 1000
LONGEST = 15 * 60
SOUND = "soundsOfThisPage.at(-1).state"
# The last tone's highest note.
END_HERTZ = 1047
A_MOMENT = 5
LEFT_EDGES = "all => all.map((one) => one.getBoundingClientRect().left)"


@pytest.fixture
def rehearsal(desk, practice):
    """Hedda before the rehearsal of Ansgar's first version, on a clock in our hands."""
    practice.enrol(BELL_FOUNDER)
    desk.add_init_script(path=QUIET_SOUND)
    desk.clock.install()
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.unfold("routine")
    hedda.page.get_by_role("link", name="Rehearse version 1").click()
    opened = RehearsalPage(hedda.page)
    expect(opened.picture).to_be_visible()
    return opened


def seconds(text):
    minutes, rest = text.split(" ")[0].split(":")
    return 60 * int(minutes) + int(rest)


def played(rehearsal, page, times):
    """Seconds of the session that go by in ten on the wall."""
    began = seconds(rehearsal.time.inner_text())
    page.clock.run_for(10 * SECOND)
    return seconds(rehearsal.time.inner_text()) - began


def test_the_rehearsal_is_sound(rehearsal):
    page = rehearsal.stage.page
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        assert not faults(page)
        rehearsal.main.click()
        page.clock.run_for(10 * SECOND)
        assert not faults(page)
    page.set_viewport_size({"width": 360, "height": 640})
    assert not is_wider_than_the_screen(page)


@pytest.mark.long
def test_each_speed_is_that_many_times_as_fast(rehearsal):
    page = rehearsal.stage.page
    page.clock.pause_at(page.evaluate("Date.now()") / SECOND + 1)
    rehearsal.main.click()
    for times in (1, 2, 4, 8):
        rehearsal.at_speed(times).check()
        assert abs(played(rehearsal, page, times) - 10 * times) <= 1


def test_a_rehearsal_plays_to_its_end_and_sends_nothing(rehearsal, practice):
    page, sent, before = rehearsal.stage.page, [], practice.log(1)
    # The browser may still fetch the page's own icon; nothing else may go out.
    page.on("request", lambda request: None if "/assets/" in request.url else sent.append(request.url))
    rehearsal.at_speed(8).check()
    rehearsal.tones.check()
    rehearsal.main.click()
    for _ in range(LONGEST // 8):
        page.clock.fast_forward(SECOND)
    expect(rehearsal.in_state("ended")).to_be_visible()
    at, whole = rehearsal.time.inner_text().split(" of ")
    assert at == whole
    assert sent == []
    assert practice.log(1) == before
    assert page.evaluate("heardOnThisPage().at(-1).hertz") == END_HERTZ
    page.clock.run_for(3 * SECOND)
    assert page.evaluate(SOUND) == "closed"


def test_a_rehearsal_that_is_left_waits_and_gives_the_sound_back(rehearsal):
    page = rehearsal.stage.page
    rehearsal.tones.check()
    rehearsal.main.click()
    page.clock.run_for(12 * SECOND)
    assert page.evaluate(SOUND) == "running"
    page.evaluate("dispatchEvent(new PageTransitionEvent('pagehide', { persisted: true }))")
    expect(rehearsal.in_state("paused")).to_be_visible()
    page.clock.run_for(3 * SECOND)
    assert page.evaluate(SOUND) == "closed"
    rehearsal.main.click()
    expect(rehearsal.in_state("running")).to_be_visible()
    page.clock.run_for(SECOND)
    assert page.evaluate(SOUND) == "running"


def test_a_step_of_the_sheet_is_jumped_to_and_its_picture_moves(rehearsal):
    page = rehearsal.stage.page
    rehearsal.steps.filter(has_text="Palm down").filter(has_text="reps").click()
    expect(rehearsal.now).to_contain_text("Palm down")
    expect(rehearsal.name).to_have_text("Palm down")
    page.clock.pause_at(page.evaluate("Date.now()") / SECOND + 1)
    rehearsal.main.click()
    page.clock.run_for(SECOND)
    low = rehearsal.picture.inner_html()
    page.clock.run_for(SECOND)
    assert rehearsal.picture.inner_html() != low
    rehearsal.skip.click()
    expect(rehearsal.now).not_to_contain_text("Palm down, ")


@pytest.mark.long
def test_half_the_range_is_chosen_and_drawn_shorter(rehearsal):
    page = rehearsal.stage.page
    arc = "document.querySelector('[data-picture] .wrist-day').getTotalLength()"
    set_of = rehearsal.steps.filter(has_text="Palm down").filter(has_text="reps")
    set_of.click()
    whole = page.evaluate(arc)
    rehearsal.range.select_option("2")
    rehearsal.show.click()
    set_of.click()
    assert page.evaluate(arc) == pytest.approx(whole / 2, rel=0.02)


def test_start_is_at_hand_without_scrolling_and_the_sheet_stands_in_line(rehearsal):
    rehearsal.stage.page.set_viewport_size({"width": 1280, "height": 800})
    for part in (rehearsal.main, rehearsal.picture, rehearsal.numeral):
        expect(part).to_be_in_viewport(ratio=1)
    assert len(set(rehearsal.steps.locator("b").evaluate_all(LEFT_EDGES))) == 1


@pytest.mark.parametrize(
    "is_begun", [pytest.param(True, id="paused"), pytest.param(False, id="never started", marks=pytest.mark.long)]
)
def test_skipped_to_its_end_it_is_over_and_can_be_played_again(rehearsal, is_begun):
    for _ in range(2 if is_begun else 0):
        rehearsal.main.click()
    for _ in range(rehearsal.steps.count()):
        rehearsal.skip.click()
    expect(rehearsal.in_state("ended")).to_be_visible()
    expect(rehearsal.phase).to_have_text("The session is over.")
    expect(rehearsal.main).to_have_text("Play again")
    rehearsal.main.click()
    expect(rehearsal.in_state("running")).to_be_visible()
    assert seconds(rehearsal.time.inner_text()) < A_MOMENT

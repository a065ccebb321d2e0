"""A movement explained: from its drawing on the day page, and from the page before a session, which is not lost."""

import pytest
from playwright.sync_api import expect

from e2e.phone import RUN
from e2e.reading import MovementScreen
from e2e.screens import SessionScreen
from tests.cast import BELL_FOUNDER
from webapp.library.shelf import the_shelf

PATHS = "svg => [...svg.querySelectorAll('path')].map((path) => path.getAttribute('d') + path.parentElement.getAttribute('transform')).join()"


@pytest.fixture
def client(one_phone, joined):
    """A client with a routine."""
    return joined(one_phone, BELL_FOUNDER)


@pytest.fixture
def screen(one_phone, client, server):
    """The page of the first set's movement, on a phone whose server is dead."""
    server.kill()
    one_phone.day.drawings.first.tap()
    found = MovementScreen(one_phone.page)
    expect(found.title).to_be_visible()
    return found


def test_a_drawing_leads_to_its_movement_which_moves_on_a_tap_and_leads_to_the_next(one_phone, screen):
    movement = the_shelf().movements["palm_up"]
    expect(screen.title).to_have_text(movement.name)
    expect(screen.purpose).to_have_text(movement.purpose.text)
    picture = screen.pictures.first
    still = picture.evaluate(PATHS)
    screen.play.tap()
    one_phone.context.clock.run_for(1200)
    moved = picture.evaluate(PATHS)
    assert moved != still
    screen.play.tap()
    assert picture.evaluate(PATHS) == still
    screen.next.tap()
    expect(screen.title).not_to_have_text(movement.name)
    screen.back.tap()
    expect(one_phone.day.start).to_be_visible()


@pytest.mark.long
def test_three_turns_at_the_real_tempo_and_then_it_rests(one_phone, screen):
    up, down = (float(text.removesuffix(" s")) for text in screen.tempo.all_text_contents())
    expect(screen.play).to_have_text("Show it moving")
    screen.play.tap()
    expect(screen.play).to_have_text("Hold still")
    one_phone.context.clock.run_for(int(3 * (up + down) * 1000) - 300)
    expect(screen.play).to_have_text("Hold still")
    one_phone.context.clock.run_for(600)
    expect(screen.play).to_have_text("Show it moving")


@pytest.mark.long
def test_who_prefers_less_motion_sees_three_stills_and_no_button(one_phone, client):
    one_phone.page.emulate_media(reduced_motion="reduce")
    one_phone.day.drawings.first.tap()
    screen = MovementScreen(one_phone.page)
    expect(screen.pictures).to_have_count(3)
    assert len({picture.evaluate(PATHS) for picture in screen.pictures.all()}) == 3
    expect(screen.play).to_be_hidden()


@pytest.mark.long
def test_a_session_that_was_left_is_as_it_was_after_a_look_at_its_movements(one_phone, client):
    one_phone.begin_session()
    one_phone.skip_to("reps")
    one_phone.open()
    before = one_phone.page.evaluate(RUN)
    one_phone.page.goto(f"{one_phone.shell}#session")
    session = SessionScreen(one_phone.page)
    session.ways.tap()
    session.movements.tap()
    screen = MovementScreen(one_phone.page)
    expect(screen.pictures.first).to_be_visible()
    screen.next.tap()
    screen.back.tap()
    expect(session.main).to_be_visible()
    after = one_phone.page.evaluate(RUN)
    assert (after["plan"], after["id"]) == (before["plan"], before["id"])


def test_an_unknown_movement_and_one_of_another_routine_open_the_first(one_phone, client):
    for of in ("nothing", "%00", "palm_down%22"):
        one_phone.page.goto(f"{one_phone.shell}#movement?of={of}")
        expect(MovementScreen(one_phone.page).where).to_have_text("Movement 1 of 9")

"""The controls of a session: Sharp pain can be pressed whatever the session does, and the left hand has them in a mirror."""

import pytest
from playwright.sync_api import expect

from e2e.screens import SessionScreen
from e2e.test_ways import choose
from tests.cast import BELL_FOUNDER

SIZES = ((360, 640), (640, 360))
# Whether a part has a size and a finger on its middle would find it, and not something over it.
CAN_BE_PRESSED = """part => {
  const { left, top, width, height } = part.getBoundingClientRect();
  const found = document.elementFromPoint(left + width / 2, top + height / 2);
  return width > 0 && height > 0 && part.contains(found);
}"""
# Boxes on whole pixels of a screen with two to one.
NEAR = 1
TO_THE_FIRST_REPS = 14


@pytest.fixture
def phone(one_phone, joined):
    one_phone.page.set_viewport_size({"width": 360, "height": 640})
    joined(one_phone, BELL_FOUNDER)
    return one_phone


@pytest.fixture
def session(phone):
    return SessionScreen(phone.page)


def assert_sharp_can_be_pressed(phone, session, face):
    for width, height in SIZES:
        phone.page.set_viewport_size({"width": width, "height": height})
        assert session.sharp.evaluate(CAN_BE_PRESSED), (face, width)


def test_sharp_pain_can_be_pressed_whatever_the_session_does(phone, session):
    phone.begin_session()
    phone.stand_still()
    for kind in ("prepare", "warm_up", "reps", "rest", "hold"):
        phone.skip_to(kind)
        phone.play(2)
        expect(session.running).to_be_visible()
        assert_sharp_can_be_pressed(phone, session, kind)
    session.main.tap()
    expect(session.paused).to_be_visible()
    assert_sharp_can_be_pressed(phone, session, "paused")
    session.main.tap()
    phone.play(2)
    expect(session.lead).to_be_visible()
    assert_sharp_can_be_pressed(phone, session, "about to go on")


def middles(phone, session):
    """Where the middles of the two largest controls lie, from the left edge."""
    boxes = [part.bounding_box() for part in (session.sharp, session.main)]
    return [box["x"] + box["width"] / 2 for box in boxes]


@pytest.mark.long
def test_for_the_left_hand_the_controls_lie_in_a_mirror(phone, session):
    session = phone.open_session()
    choose(session)
    phone.play(TO_THE_FIRST_REPS)
    right = middles(phone, session)
    session.stop.tap()
    session.why("time").tap()
    phone.rate(1)
    phone.sleep_until_morning()
    phone.day.skip_report.tap()
    session = phone.open_session()
    choose(session, ("hand", ""))
    expect(session.left_handed).to_be_visible()
    phone.play(TO_THE_FIRST_REPS)
    left = middles(phone, session)
    assert left == pytest.approx([360 - middle for middle in right], abs=NEAR)
    assert max(abs(mine - other) for mine, other in zip(left, right, strict=True)) > 20

"""For eyes that want no motion the picture has two positions, swapped at the turn, and moves at no other time."""

import pytest
from playwright.sync_api import expect

from e2e.screens import SessionScreen
from tests.cast import BELL_FOUNDER

LOOKS, EACH_MS = 50, 100
PICTURE = "document.querySelector('.session .wrist').innerHTML"


@pytest.fixture
def phone(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    return one_phone


def positions(phone):
    """How many pictures there are in five seconds of the first set."""
    phone.begin_session()
    phone.stand_still()
    phone.skip_to("reps")
    expect(SessionScreen(phone.page).running).to_be_visible()
    seen = []
    for _ in range(LOOKS):
        phone.context.clock.run_for(EACH_MS)
        seen.append(phone.page.evaluate(PICTURE))
    return [picture for at, picture in enumerate(seen) if not at or picture != seen[at - 1]]


def test_without_motion_the_picture_changes_at_the_turn_alone(phone):
    phone.page.emulate_media(reduced_motion="reduce")
    # In five seconds there is one way up and one way down, and the way before or after them may be seen too.
    assert 2 <= len(positions(phone)) <= 3


def test_with_motion_it_moves_all_the_time(phone):
    assert len(positions(phone)) > LOOKS / 2

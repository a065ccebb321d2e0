"""Every face of a session in every look: light, dark, text twice as large, forced colours; the phone upright and on its side."""

import pytest
from playwright.sync_api import expect

from e2e.screens import AfterScreen, SessionScreen, SharpScreen
from e2e.test_accessible import FINGER, FINGER_IN_A_SESSION, faults, is_wider_than_the_screen, too_small
from e2e.test_one_tap import BEHIND_ITS_BACK
from e2e.test_ways import choose
from tests.cast import BOOKBINDER

UPRIGHT, ON_ITS_SIDE = {"width": 360, "height": 640}, {"width": 640, "height": 360}
LIGHT = ("light", {}, "")
OTHER_LOOKS = (
    ("dark", {"color_scheme": "dark"}, ""),
    ("text twice as large", {}, "200%"),
    ("forced colours", {"forced_colors": "active"}, ""),
)
PLAIN = {"color_scheme": "light", "forced_colors": "none"}
TEXT = "size => { document.documentElement.style.fontSize = size; }"
# Where the session scrolls, its controls lie over what scrolls beneath them, but not at its end.
TO_THE_END = "document.querySelector('#page .session')?.scrollTo(0, 1e6)"
CONTROLS = "#page :is(button, summary, label, a)"
TO_THE_FIRST_GATE = 12
SOME_MINUTES = 10 * 60 * 1000


class Watched:
    """A phone of which each face is looked at in every look, its clock standing still meanwhile."""

    def __init__(self, phone, looks):
        self.looks, self.phone, self.page, self.session = looks, phone, phone.page, SessionScreen(phone.page)
        self.wrong = []

    def look(self, face, finger=FINGER_IN_A_SESSION):
        """Remember all that is wrong with what is on the screen."""
        for size in (UPRIGHT, ON_ITS_SIDE):
            self.page.set_viewport_size(size)
            for look, media, text in self.looks:
                self.page.emulate_media(**{**PLAIN, **media})
                self.page.evaluate(TEXT, text)
                self.page.evaluate(TO_THE_END)
                found = [*faults(self.page).items(), *too_small(self.page.locator(CONTROLS), finger)]
                found += ["wider than the screen"] if is_wider_than_the_screen(self.page) else []
                self.wrong += [(face, look, size["width"], each) for each in found]
        self.page.emulate_media(**PLAIN)
        self.page.evaluate(TEXT, "")
        self.page.set_viewport_size(UPRIGHT)


@pytest.fixture(
    params=[
        pytest.param((LIGHT,), id="light"),
        pytest.param(OTHER_LOOKS, id="other looks", marks=pytest.mark.long),
    ]
)
def watched(request, one_phone, joined):
    one_phone.page.set_viewport_size(UPRIGHT)
    joined(one_phone, BOOKBINDER)
    return Watched(one_phone, request.param)


def test_before_the_start_every_face_is_sound_in_every_look(watched):
    phone, session = watched.phone, watched.session
    phone.day.start.tap()
    session.try_sound.tap()
    watched.look("asked whether the sound was heard")
    session.unheard.tap()
    session.ways.tap()
    watched.look("no sound heard, ways open")
    session.try_sound.tap()
    session.heard.tap()
    session.stop.tap()
    expect(phone.day.start).to_be_visible()
    watched.page.evaluate(BEHIND_ITS_BACK, "another")
    phone.day.start.tap()
    expect(phone.day.changed).to_be_visible()
    expect(phone.day.title).not_to_be_empty()
    watched.look("changed in the moment of the tap", FINGER)
    assert not watched.wrong, "\n".join(map(str, watched.wrong))


def test_every_step_of_a_session_is_sound_in_every_look(watched):
    phone, session = watched.phone, watched.session
    phone.begin_session()
    phone.stand_still()
    for kind in ("prepare", "warm_up", "reps", "rest", "hold", "change_arm"):
        phone.skip_to(kind)
        phone.play(1)
        expect(session.running).to_be_visible()
        watched.look(kind)
    watched.page.evaluate("soundsOfThisPage.at(-1).interrupt()")
    phone.play(3)
    expect(session.soundless).to_be_visible()
    watched.look("no sound just now")
    session.main.tap()
    expect(session.paused).to_be_visible()
    watched.look("paused")
    assert not watched.wrong, "\n".join(map(str, watched.wrong))


def test_what_is_asked_in_a_session_and_after_it_is_sound_in_every_look(watched):
    phone, session = watched.phone, watched.session
    phone.begin_session()
    phone.stand_still()
    phone.skip_to("reps")
    session.ease_off.tap()
    watched.look("easing off")
    session.easing("form").tap()
    phone.play(7)
    phone.context.clock.fast_forward(SOME_MINUTES)
    expect(session.away).to_be_visible()
    watched.look("away for some minutes")
    session.stop.tap()
    watched.look("asked why")
    session.why("tired").tap()
    after = AfterScreen(watched.page)
    after.save.tap()
    expect(after.fault).to_be_visible()
    watched.look("asked how the arm felt", FINGER)
    assert not watched.wrong, "\n".join(map(str, watched.wrong))


@pytest.mark.long
def test_at_ones_own_pace_for_the_left_hand_and_after_sharp_pain_all_is_sound_in_every_look(watched):
    phone, session = watched.phone, watched.session
    phone.open_session()
    choose(session, ("pace", "own"), ("arms", "both"), ("hand", ""))
    phone.stand_still()
    phone.play(TO_THE_FIRST_GATE)
    expect(session.rep).to_be_visible()
    expect(session.left_handed).to_be_visible()
    watched.look("at one's own pace, for the left hand")
    session.sharp.tap()
    sharp = SharpScreen(watched.page)
    sharp.save.tap()
    expect(sharp.fault).to_be_visible()
    watched.look("asked about sharp pain", FINGER)
    for question, answer in (("arm", "both"), ("where", "wrist"), ("like", "stab"), ("sign", "yes")):
        sharp.answer(question, answer).tap()
    sharp.save.tap()
    expect(sharp.sign).to_be_visible()
    watched.look("a warning sign after sharp pain", FINGER)
    assert not watched.wrong, "\n".join(map(str, watched.wrong))

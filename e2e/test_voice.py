"""Who speaks, and that what is spoken is shown at the same moment; what is felt; the check of the sound."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import RUN, SETTLED
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER, BOOKBINDER

STUB = Path(__file__).with_name("stub_voice.js")
ANNOUNCED = "[...document.querySelectorAll('[data-announce]')].map((one) => one.textContent).join('')"
TO_THE_END_OF_A_SET = 170
KINDS = ("step", "up", "down", "half", "tick", "arm", "end")
OPENING_AND_A_REP, A_STRETCH_AND_MORE = 14, 40
SOME_SECONDS = 14
FIRST_CUE = "Open and close the fingers: 10 times."
FIRST_REPS = "A little discomfort that fades in the first reps is common. If it stays or gets worse, ease off."
TOLD_MORE = f"{FIRST_CUE} Rest the forearm on a table"


@pytest.fixture
def session(one_phone, joined):
    """The session's page on a phone that has voices, before the start."""
    one_phone.context.add_init_script(path=STUB)
    joined(one_phone, BELL_FOUNDER)
    # What was announced as the app was kept is not on this page any more.
    one_phone.open()
    opened = one_phone.open_session()
    one_phone.play(2)
    expect(opened.voiceless).to_be_hidden()
    return opened


def said(phone):
    """What was spoken aloud, with what stood on the screen."""
    return [entry for entry in phone.page.evaluate("saidByThisPage") if entry["volume"] > 0]


def start(phone, session, speaker):
    session.ways.tap()
    session.way("speaker", speaker).tap()
    session.main.tap()
    expect(session.running).to_be_visible()
    return phone


def test_every_spoken_cue_is_shown_in_the_same_words_and_nothing_waits_for_the_voice(one_phone, session):
    session.main.tap()
    steps = one_phone.page.locator("#page .session-bar span").count()
    one_phone.play_to_the_end()
    expect(AfterScreen(one_phone.page).title).to_be_visible()
    spoken = said(one_phone)
    assert len(spoken) > steps
    assert [
        spoken_line
        for spoken_line in spoken[:-1]
        if spoken_line["text"] not in {spoken_line["shown"], spoken_line["numeral"], spoken_line["first"]}
    ] == []
    assert [spoken_line["text"] for spoken_line in spoken].count(FIRST_REPS) == 1
    assert spoken[-1]["text"] == AfterScreen(one_phone.page).title.inner_text()
    assert {spoken_line["voice"] for spoken_line in spoken} == {"near"}
    assert one_phone.page.evaluate("vainCancels") == 0


def test_nothing_is_said_after_the_last_movement_is_left(one_phone, session):
    session.main.tap()
    expect(session.running).to_be_visible()
    one_phone.stand_still()
    one_phone.skip_to("hold")
    one_phone.skip_to("prepare")
    one_phone.skip_to("hold")
    one_phone.play(2)
    session.ease_off.tap()
    before = len(said(one_phone))
    session.easing("leave").tap()
    expect(AfterScreen(one_phone.page).title).to_have_text("Nothing was done")
    assert [spoken_line["text"] for spoken_line in said(one_phone)[before:]] == ["Session over"]


def test_a_session_skipped_to_its_end_is_said_to_be_over_and_not_done(one_phone, session):
    after = AfterScreen(one_phone.page)
    session.main.tap()
    one_phone.play_closely(SOME_SECONDS)
    one_phone.skip_to_the_end()
    expect(after.title).to_have_text("Nothing was done")
    expect(after.account).to_have_text(re.compile(r"^0 of 9 parts, \d\d seconds$"))
    assert said(one_phone)[-1]["text"] == "Session over"
    assert {line.split("right arm")[1] for line in after.list.all_inner_texts()} == {": in part", ": left out"}


def test_the_first_set_says_what_a_first_discomfort_means_and_counts_its_last_three_reps_aloud(one_phone, session):
    session.main.tap()
    expect(session.running).to_be_visible()
    one_phone.play_closely(TO_THE_END_OF_A_SET)
    texts = [spoken_line["text"] for spoken_line in said(one_phone)]
    opening = next(number for number, text in enumerate(texts) if text.startswith("Palm up:"))
    last = int(texts[opening].split(": ")[1].split()[0])
    assert texts[opening + 1 : opening + 5] == [FIRST_REPS, str(last - 2), str(last - 1), str(last)]


def test_the_voice_and_the_screen_reader_never_talk_at_once(one_phone, session):
    session.main.tap()
    one_phone.play(20)
    assert said(one_phone)
    assert one_phone.page.evaluate(ANNOUNCED) == ""


def test_a_screen_reader_is_told_more_and_the_voice_is_silent(one_phone, session):
    start(one_phone, session, "reader")
    one_phone.play(12)
    expect(one_phone.page.locator("[data-announce]", has_text=TOLD_MORE)).to_have_count(1)
    expect(session.cue).to_contain_text(FIRST_CUE)
    assert said(one_phone) == []


@pytest.mark.parametrize("speaker", ["tones", "nothing"])
def test_without_a_speaker_the_cues_are_shown_all_the_same(one_phone, session, speaker):
    start(one_phone, session, speaker)
    one_phone.play(11)
    expect(session.cue).to_contain_text("10 times")
    assert said(one_phone) == []
    assert one_phone.page.evaluate(ANNOUNCED) == ""


@pytest.mark.long
def test_each_kind_of_tone_feels_different(one_phone, joined):
    one_phone.context.add_init_script(path=STUB)
    joined(one_phone, BOOKBINDER)
    one_phone.begin_session()
    session = SessionScreen(one_phone.page)
    one_phone.stand_still()
    feel(one_phone, OPENING_AND_A_REP)
    skip_to_before(one_phone, session, "change_arm")
    feel(one_phone, A_STRETCH_AND_MORE)
    skip_to_before(one_phone, session, "done")
    feel(one_phone, A_STRETCH_AND_MORE)
    expect(AfterScreen(one_phone.page).title).to_be_visible()
    felt = set(one_phone.page.evaluate("feltOnThisPage"))
    assert len(felt) == len(KINDS)


def feel(phone, seconds):
    """Play so closely that no tone is past by the time the page looks: each timer fires once in a stride, and a look takes two."""
    for _ in range(seconds * 10):
        phone.context.clock.fast_forward(100)
    phone.page.evaluate(SETTLED)


def skip_to_before(phone, session, kind):
    """Skip to the start of the step that the next step of a kind follows."""
    run = phone.page.evaluate(RUN)
    steps, now = run["plan"]["steps"], run["step"]
    to = next(at for at in range(now, len(steps)) if steps[at]["kind"] == kind) - 1
    for _ in range(to - now):
        session.skip.tap()
    expect(session.title).to_have_text(steps[to]["name"])


def test_a_pause_cuts_the_voice_short(one_phone, session):
    session.main.tap()
    one_phone.play(12)
    one_phone.page.evaluate("speechSynthesis.speaking = true")
    cut = one_phone.page.evaluate("cutShort")
    session.main.tap()
    expect(session.paused).to_be_visible()
    assert one_phone.page.evaluate("cutShort") > cut


def test_nothing_is_felt_by_who_does_not_want_it(one_phone, session):
    session.ways.tap()
    session.way("vibrates").tap()
    session.main.tap()
    one_phone.play(TO_THE_END_OF_A_SET)
    assert one_phone.page.evaluate("feltOnThisPage") == []


def test_music_may_play_on(one_phone, session):
    kinds = "navigator.audioSession.type"
    session.ways.tap()
    session.way("keepsMusic").tap()
    session.main.tap()
    expect(session.running).to_be_visible()
    assert one_phone.page.evaluate(kinds) == "transient"


def test_sound_is_ours_where_music_is_not_kept(one_phone, session):
    session.main.tap()
    expect(session.running).to_be_visible()
    assert one_phone.page.evaluate("navigator.audioSession.type") == "playback"


def test_the_sound_is_checked_once_before_the_first_session(one_phone, session):
    session.try_sound.tap()
    assert [spoken_line["text"] for spoken_line in said(one_phone)] == ["This is how the session sounds."]
    # The hardware begins to run only after the tap: what was asked for in it must still be heard.
    one_phone.play(1)
    assert one_phone.page.evaluate("heardOnThisPage().length") > 0
    session.heard.tap()
    expect(session.heard).to_be_hidden()
    again = one_phone.open_session()
    expect(again.try_sound).to_be_hidden()
    again.ways.tap()
    expect(again.try_sound).to_be_visible()

"""What a screen reader is given of a session: each kind of step as it stands in the accessibility tree, and what is announced."""

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import RUN
from e2e.screens import SessionScreen
from e2e.test_voice import FIRST_REPS, STUB
from e2e.test_ways import choose
from tests.cast import BELL_FOUNDER

# Keeps what each live region came to say, in order.
HEARKEN = """() => {
  window.announced = [];
  for (const region of document.querySelectorAll('[data-announce]'))
    new MutationObserver(() => region.textContent && window.announced.push(region.textContent)).observe(region, { childList: true });
}"""
A_MINUTE = 60
AN_HOUR = 3600
# What breaks, and what is then said of it.
FAULTS = {
    "sound": (
        "soundsOfThisPage.at(-1).interrupt()",
        "No sound just now. The session goes on: watch the picture.",
    ),
    "lock": (
        "() => { WakeLock.prototype.request = () => Promise.reject(new Error()); locks.forEach((lock) => lock.release()); }",
        "The screen may switch itself off. Set it to stay on for 5 minutes or more.",
    ),
    "storage": (
        "() => { IDBObjectStore.prototype.put = () => { throw new Error(); }; }",
        "The phone's storage did not answer. It tries again by itself.",
    ),
}
# The locks that hold the screen on, so that one can be taken away as a browser does.
LOCKS = """window.locks = [];
const { request } = WakeLock.prototype;
WakeLock.prototype.request = async function (...kind) {
  const lock = await request.apply(this, kind);
  window.locks.push(lock);
  return lock;
};"""
ONE_STRETCH = 33
SOME_REPS = 15
CIRCLES_HINT = "Rest the forearm on a table on a folded towel, or along your thigh. The hand hangs loose past the edge."


@pytest.fixture
def session(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    opened = one_phone.open_session()
    one_phone.page.evaluate(HEARKEN)
    choose(opened, ("speaker", "reader"))
    return opened


def test_each_kind_of_step_reads_as_its_name_its_arm_its_count_and_its_words(one_phone, session):
    one_phone.stand_still()
    assert read(one_phone, "reps") == heard("Palm up", "right arm · no weight", "1", "of 6", "Slowly down",
        '"Palm up: 6 times, no weight."', FIRST_REPS)  # fmt: skip
    assert read(one_phone, "rest") == heard("Rest", "right arm", "18", "seconds", "Rest", '"Next: Palm down."')
    assert read(one_phone, "hold") == heard("Stretch, palm down", "right arm", "33", "seconds", "Hold",
        '"Stretch, palm down: 35 seconds."')  # fmt: skip
    expect(session.picture).to_have_attribute("aria-hidden", "true")
    # What counts down on the page is not itself read out, second by second.
    assert one_phone.page.locator("#page [aria-live]:not([aria-live=off])").count() == 0


def test_the_first_minute_is_announced_step_by_step_and_nothing_else_is(one_phone, session):
    one_phone.stand_still()
    one_phone.play(A_MINUTE)
    assert one_phone.page.evaluate("announced") == [
        "Next: Open and close the fingers. Rest the forearm on a table on a folded towel, or along your thigh. The hand hangs loose past the edge.",
        "Open and close the fingers: 10 times. Rest the forearm on a table on a folded towel, or along your thigh. The hand hangs loose past the edge.",
        f"Wrist circles, thumb side first: 10 times. {CIRCLES_HINT}",
    ]


def test_what_a_first_discomfort_means_is_announced_in_the_first_set_alone(one_phone, session):
    one_phone.stand_still()
    times = []
    for _ in range(2):
        one_phone.skip_to("reps")
        one_phone.play(SOME_REPS)
        times.append(one_phone.page.evaluate("announced").count(FIRST_REPS))
        one_phone.skip_to("rest")
    assert times == [1, 1]


def test_a_stretch_is_announced_with_its_half_and_its_last_ten_seconds(one_phone, session):
    one_phone.stand_still()
    one_phone.skip_to("hold")
    one_phone.play(ONE_STRETCH)
    assert one_phone.page.evaluate("announced")[-3:] == [
        "Stretch, palm down: 35 seconds. Arm out, palm down, and a mild pull.",
        "Half way.",
        "10 seconds.",
    ]


def read(phone, kind):
    """The tree of the next step of a kind, two seconds into it."""
    phone.skip_to(kind)
    phone.play(2)
    return phone.page.locator("#page").aria_snapshot()


def heard(name, about, numeral, of, phase, *lines):
    """How a running step stands in the tree, in the order of its reading."""
    return "\n".join([
        "- main:",
        f'  - heading "{name}" [level=1]',
        f"  - paragraph: {about}",
        "  - timer:",
        f'    - paragraph: "{numeral}"',
        "    - paragraph:",
        f"      - text: {of}",
        f"      - strong: {phase}",
        *[f"  - paragraph: {line}" for line in lines],
        *[f'  - button "{name}"' for name in ("Pause", "Back", "Skip", "Stop", "Ease off", "Sharp pain")],
    ])  # fmt: skip


@pytest.mark.parametrize("speaker", ["voice", "reader"])
def test_a_session_that_stops_by_itself_says_so_once_whoever_speaks(one_phone, joined, speaker):
    begin(one_phone, joined, speaker)
    one_phone.play(12)
    one_phone.context.clock.fast_forward(6 * AN_HOUR * 1000)
    expect(SessionScreen(one_phone.page).paused).to_be_visible()
    one_phone.play(5)
    assert notes(one_phone) == ["Paused: Halfturn was off the screen for 6 hours. Nothing was counted in that time."]


@pytest.mark.parametrize(("fault", "note"), FAULTS.values(), ids=FAULTS)
def test_what_stands_in_the_way_is_announced_once_each_time_it_comes(one_phone, joined, fault, note):
    begin(one_phone, joined, "tones")
    one_phone.play(12)
    assert notes(one_phone) == []
    one_phone.page.evaluate(fault)
    one_phone.play(10)
    assert notes(one_phone) == [note]


def begin(phone, joined, speaker):
    """A session under way by this speaker, and all that is announced from its start on kept."""
    phone.context.add_init_script(f"{STUB.read_text()}\n{LOCKS}")
    joined(phone, BELL_FOUNDER)
    opened = phone.open_session()
    phone.page.evaluate(HEARKEN)
    choose(opened, ("speaker", speaker))
    phone.stand_still()


def notes(phone):
    """What was announced that is no cue of the session."""
    cues = {
        text
        for step in phone.page.evaluate(RUN)["plan"]["steps"]
        for text in (step["cue"], f"{step['cue']} {step['hint']}")
    }
    return [text for text in phone.page.evaluate("announced") if text not in cues]

"""What a screen reader is given of a session: each kind of step as it stands in the accessibility tree, and what is announced."""

import pytest
from playwright.sync_api import expect

from e2e.test_ways import choose
from tests.cast import BELL_FOUNDER

# Keeps what each live region came to say, in order.
HEARKEN = """() => {
  window.announced = [];
  for (const region of document.querySelectorAll('[data-announce]'))
    new MutationObserver(() => region.textContent && window.announced.push(region.textContent)).observe(region, { childList: true });
}"""
A_MINUTE = 60
ONE_STRETCH = 33
CIRCLES_HINT = "Rest the forearm along your thigh and let the hand hang past the knee."
FIRST_REPS = (
    "Some discomfort at first that fades by the third or fourth rep is ordinary. If it stays or grows, ease off."
)


@pytest.fixture
def session(one_phone, practice):
    one_phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    opened = one_phone.open_session()
    one_phone.page.evaluate(HEARKEN)
    choose(opened, ("speaker", "reader"))
    return opened


def test_each_kind_of_step_reads_as_its_name_its_arm_its_count_and_its_words(one_phone, session):
    one_phone.stand_still()
    assert read(one_phone, "reps") == told("Palm down", "right arm · no weight", "1", "of 7", "Slowly down",
        '"Palm down: 7 times, no weight."', FIRST_REPS)  # fmt: skip
    assert read(one_phone, "rest") == told("Rest", "right arm", "18", "seconds", "Rest", '"Next: Palm up."')
    assert read(one_phone, "hold") == told("Stretch, palm down", "right arm", "33", "seconds", "Hold",
        '"Stretch, palm down: 35 seconds."')  # fmt: skip
    expect(session.picture).to_have_attribute("aria-hidden", "true")
    # What counts down on the page is not itself read out, second by second.
    assert one_phone.page.locator("#page [aria-live]:not([aria-live=off])").count() == 0


def test_the_first_minute_is_announced_step_by_step_and_nothing_else_is(one_phone, session):
    one_phone.stand_still()
    one_phone.play(A_MINUTE)
    assert one_phone.page.evaluate("announced") == [
        "Next: Open and close the fingers. Rest the forearm along your thigh, with the hand loose past the knee.",
        "Open and close the fingers: 10 times. Rest the forearm along your thigh, with the hand loose past the knee.",
        f"Wrist circles, thumb side first: 10 times. {CIRCLES_HINT}",
    ]


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


def told(name, about, numeral, of, phase, *lines):
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

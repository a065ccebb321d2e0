"""Room on the session's screen: nothing that is needed lies outside it or over another, however large the text, however the phone lies."""

from dataclasses import replace
from itertools import combinations

import pytest
from playwright.sync_api import expect

from e2e.screens import SessionScreen
from tests.cast import BELL_FOUNDER, BOOKBINDER

SIZES = ((360, 640), (390, 844), (640, 360), (844, 390))
LEAST = (568, 320)
# A reader's own size: twice as large, and a little more.
TEXTS = ("", "200%", "212.5%")
TEXT = "size => { document.documentElement.style.fontSize = size; }"
SMALLEST = {"width": 360, "height": 640}
TO_THE_FIRST_SET = 112
SPILLS = "one => one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1"
BOXES = """parts => Object.fromEntries(Object.entries(parts).map(([name, part]) => [name, part.getBoundingClientRect().toJSON()]))"""
NEAR = 0.6
HEAVY_RUNG = 12
ALL_EASINGS = 5
LEAST_PICTURE = 120


@pytest.fixture
def phone(one_phone):
    one_phone.page.set_viewport_size(SMALLEST)
    return one_phone


@pytest.fixture
def session(phone):
    return SessionScreen(phone.page)


def crowded(page, parts, sizes=SIZES):
    """What is wrong with parts that must all be on the screen: (part, what) at any size of screen and text."""
    wrong = []
    for width, height in sizes:
        page.set_viewport_size({"width": width, "height": height})
        for text in TEXTS:
            page.evaluate(TEXT, text)
            where = f"{width}x{height} {text}"
            boxes = boxes_of(page, parts)
            wrong += [(where, name, "outside", box) for name, box in boxes.items() if not is_inside(box, width, height)]
            wrong += [
                (where, first, other) for first, other in combinations(boxes, 2) if overlap(boxes[first], boxes[other])
            ]
            for button in page.locator("#page .session-controls button:visible").all():
                wrong += [(where, button.inner_text(), "spills")] if button.evaluate(SPILLS) else []
    page.evaluate(TEXT, "")
    page.set_viewport_size(SMALLEST)
    return wrong


def boxes_of(page, parts):
    """Where the parts are at one and the same instant: a session that runs moves between two looks."""
    return page.evaluate(BOXES, {name: part.element_handle() for name, part in parts.items()})


def is_inside(box, width, height):
    """Whether a part is there at all, and whole: what is hidden has no width."""
    if min(box["width"], box["height"]) <= 0:
        return False
    right, bottom = box["x"] + box["width"], box["y"] + box["height"]
    return min(box["x"], box["y"]) > -NEAR and right < width + NEAR and bottom < height + NEAR


def overlap(first, other):
    """Whether two boxes share more than an edge."""
    across = min(first["x"] + first["width"], other["x"] + other["width"]) - max(first["x"], other["x"])
    down = min(first["y"] + first["height"], other["y"] + other["height"]) - max(first["y"], other["y"])
    return across > NEAR and down > NEAR


def needed(session, *controls):
    shown = {"picture": session.picture, "numeral": session.numeral, "phase": session.phase, "title": session.title}
    return {**shown, **{name: getattr(session, name) for name in controls}}


@pytest.mark.long
def test_whatever_the_size_the_running_session_is_seen_and_can_be_stopped(phone, session, joined):
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    controls = ("main", "ease_off", "sharp", "back", "skip", "stop")
    for seconds in (14, TO_THE_FIRST_SET - 14):
        phone.play(seconds)
        assert crowded(phone.page, needed(session, *controls)) == []
    session.main.tap()
    expect(session.paused).to_be_visible()
    assert crowded(phone.page, needed(session, *controls)) == []


@pytest.mark.long
def test_at_ones_own_pace_the_button_for_the_rep_is_there_too(phone, session, joined):
    joined(phone, BOOKBINDER)
    phone.open_session().ways.tap()
    session.way("pace", "own").tap()
    session.way("hand").tap()
    session.main.tap()
    phone.play(60)
    expect(session.rep).to_be_visible()
    assert crowded(phone.page, needed(session, "rep", "main", "ease_off", "sharp", "back", "skip", "stop")) == []


def test_what_is_asked_in_a_session_leaves_sharp_pain_on_the_screen(phone, session, joined):
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    phone.play(TO_THE_FIRST_SET)
    session.stop.tap()
    expect(session.why("tired")).to_be_visible()
    assert crowded(phone.page, {"sharp": session.sharp}) == []


@pytest.mark.parametrize(
    "set_number", [1, *(pytest.param(set_number, marks=pytest.mark.long) for set_number in (2, 3, 4))]
)
def test_every_easing_is_on_the_screen_with_sharp_pain_and_a_picture_to_compare_by(phone, session, joined, set_number):
    joined(phone, replace(BELL_FOUNDER, start_rung=HEAVY_RUNG))
    phone.begin_session()
    phone.stand_still()
    for _ in range(set_number):
        phone.skip_to("reps")
    session.ease_off.tap()
    assert session.easings.count() == ALL_EASINGS
    easings = {first.inner_text(): first for first in session.easings.all()}
    assert crowded(phone.page, {"sharp": session.sharp, **easings}, (*SIZES, LEAST)) == []
    cues = {f"cue {set_number}": cue for set_number, cue in enumerate(session.form_cues.all())}
    assert not scrolls(phone.page)
    assert_apart(phone.page, {"picture": session.picture, "sharp": session.sharp, **cues, **easings})
    assert session.picture.bounding_box()["height"] > LEAST_PICTURE
    phone.page.set_viewport_size({"width": 844, "height": 390})
    boxes = boxes_of(phone.page, {"picture": session.picture, **easings})
    assert not [name for name in easings if overlap(boxes["picture"], boxes[name])]


@pytest.mark.long
def test_after_an_absence_it_is_told_whole_beside_the_choice(phone, session, joined):
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    phone.stand_still()
    phone.skip_to("reps")
    phone.context.clock.fast_forward(600_000)
    expect(session.away).to_be_visible()
    parts = {name: getattr(session, name) for name in ("title", "away", "main", "back", "stop", "ease_off", "sharp")}
    assert crowded(phone.page, parts, (*SIZES, LEAST)) == []


def test_before_the_start_a_small_phone_needs_no_scrolling(phone, session, joined):
    joined(phone, BELL_FOUNDER)
    phone.day.start.tap()
    session.try_sound.tap()
    open_check = {"heard": session.heard, "unheard": session.unheard, "ways": session.ways}
    start = {"title": session.title, "picture": session.picture, "main": session.main, "sharp": session.sharp}
    assert not scrolls(phone.page)
    assert_apart(phone.page, {**open_check, **start})
    session.heard.tap()
    session.stop.tap()
    phone.open_session()
    assert not scrolls(phone.page)
    assert_apart(phone.page, {"ways": session.ways, **start})


def scrolls(page):
    return page.locator("#page .session").evaluate("one => one.scrollHeight > one.clientHeight")


def assert_apart(page, parts):
    boxes = boxes_of(page, parts)
    assert all(is_inside(box, SMALLEST["width"], SMALLEST["height"]) for box in boxes.values()), boxes
    assert not [pair for pair in combinations(boxes, 2) if overlap(boxes[pair[0]], boxes[pair[1]])], boxes

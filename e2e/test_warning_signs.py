"""Warning signs: what to do is read before anything is ticked, and a sign of the whole body stops both arms."""

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS
from e2e.screens import WarningsScreen
from e2e.sizes import SIZES
from tests.cast import BOOKBINDER, HEDDA

RING = "Ring your local emergency number now. Do not drive yourself. Do not wait for your practitioner."
RINGS_NOBODY = "This phone does not call anybody."


@pytest.fixture
def phone(one_phone):
    """The smallest screen: the act must be on it without scrolling."""
    one_phone.page.set_viewport_size({"width": SIZES[0][0], "height": SIZES[0][1]})
    return one_phone


@pytest.fixture
def client(phone, joined):
    """A client whose routine has two arms."""
    return joined(phone, BOOKBINDER)


@pytest.fixture
def screen(phone, server, client):
    """The list of signs, on a phone whose server is dead."""
    server.kill()
    found = WarningsScreen(phone.page)
    found.way.tap()
    expect(found.signs.first).to_be_visible()
    return found


def modes(standing):
    return {arm: state["mode"] for arm, state in standing.items()}


def bodies(phone):
    return [entry["body"] for entry in phone.page.evaluate(EVENTS) if entry["kind"] == "warning_raised"]


HELD = {"right": "held", "left": "held"}
TRAINING = {"right": "training", "left": "training"}


def test_pressure_in_the_chest_stops_both_arms_today_and_tomorrow_in_two_taps(phone, server, screen, client, practice):
    expect(screen.acts.first).to_have_text(RING)
    expect(screen.acts.first).to_be_in_viewport(ratio=1)
    screen.sign("chest").tap()
    expect(screen.report_for("right")).not_to_be_visible()
    expect(screen.report).to_be_in_viewport(ratio=1)
    screen.report.tap()
    expect(screen.act).to_have_text(RING)
    expect(screen.act).to_be_in_viewport(ratio=1)
    expect(screen.reported).to_contain_text(RINGS_NOBODY)
    expect(screen.reported).to_contain_text("First the emergency number.")
    expect(screen.reported).to_contain_text(HEDDA.name)
    assert bodies(phone) == [{"sign": "chest", "arms": ["right", "left"]}]
    screen.back.tap()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.stopped).to_have_text("Stopped")
    expect(phone.day.stop).to_contain_text(HEDDA.name)
    expect(phone.day.start).not_to_be_visible()
    phone.sleep_until_morning()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.start).not_to_be_visible()
    expect(phone.page.locator("#page")).to_contain_text("Cannot reach your practitioner?")
    assert modes(phone.standing()) == HELD
    server.start()
    phone.send()
    assert modes(practice.standing(client.id, phone.today)) == HELD


def test_an_emergency_stops_both_arms_by_one_tap_with_nothing_ticked(phone, screen):
    screen.stop.tap()
    expect(screen.act).to_have_text(RING)
    assert bodies(phone) == [{"sign": "unnamed_emergency", "arms": ["right", "left"]}]
    screen.back.tap()
    expect(phone.day.stopped).to_be_visible()
    phone.sleep_until_morning()
    assert modes(phone.standing()) == HELD


def test_a_sign_of_one_arm_asks_which_by_the_button_that_reports_it(phone, screen):
    screen.sign("open_wound").tap()
    screen.report_for("left").tap()
    expect(screen.act).to_have_text("Stop, and be seen today by a doctor or an urgent care service.")
    expect(screen.reported).to_contain_text("The exercises of your left arm are stopped")
    assert bodies(phone) == [{"sign": "open_wound", "arms": ["left"]}]
    screen.back.tap()
    expect(phone.day.held_arms).to_have_text(["Stopped: left arm"])
    phone.sleep_until_morning()
    assert modes(phone.standing()) == {"right": "training", "left": "held"}


def test_what_is_to_be_asked_about_is_reported_and_stops_nothing(phone, server, screen, client, practice):
    screen.sign("heart").tap()
    screen.report.tap()
    expect(screen.reported).to_contain_text("These signs do not stop your exercises by themselves.")
    screen.back.tap()
    expect(phone.day.start).to_be_visible()
    assert modes(phone.standing()) == TRAINING
    server.start()
    phone.sleep_until_morning()
    phone.send()
    assert modes(phone.standing()) == TRAINING
    assert modes(practice.standing(client.id, phone.today)) == TRAINING
    raised = [entry["body"] for entry in practice.log(client.id) if entry["kind"] == "warning_raised"]
    assert raised == [{"sign": "heart", "arms": ["right", "left"], "holds": False}]


def test_nothing_ticked_is_not_a_report(phone, screen):
    screen.report.tap()
    expect(phone.page.locator("#page [data-fault]")).to_be_visible()
    assert bodies(phone) == []

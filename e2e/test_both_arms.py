"""Sharp pain where both arms have a routine: which arm is asked about and recorded, and what becomes of the other one."""

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS, RUN
from e2e.screens import SessionScreen, SharpScreen
from e2e.test_ways import TO_THE_FIRST_SET, choose
from tests.cast import BOOKBINDER


@pytest.fixture
def client(one_phone, joined):
    return joined(one_phone, BOOKBINDER)


@pytest.fixture
def phone(one_phone, client):
    """The bookbinder's phone, with two arms to work."""
    return one_phone


def stop_for_sharp_pain(phone):
    SessionScreen(phone.page).sharp.tap()
    sharp = SharpScreen(phone.page)
    expect(sharp.save).to_be_visible()
    return sharp


def tell_three(sharp):
    for question, answer in (("where", "inner_elbow"), ("like", "stab"), ("sign", "no")):
        sharp.answer(question, answer).tap()
    sharp.save.tap()
    expect(sharp.save).to_be_hidden()


def in_force(phone):
    """The arms of the session as the log has them now, and what was told of the pain."""
    log = phone.page.evaluate(EVENTS)
    bodies = [each["body"] for each in log if each["kind"] == "session_finished"]
    bodies += [each["body"]["body"] for each in log if each["kind"] == "entry_corrected"]
    return bodies[-1]["arms"], bodies[-1].get("sharp_told")


def see_held(phone, practice, client, arm):
    """One arm is stopped, today and from tomorrow on, and is named; the other still has its dose, as each arm has its own state (RULES: stop)."""
    other = "left" if arm == "right" else "right"
    expect(phone.day.held_arms).to_have_text([f"Stopped: {arm} arm"])
    expect(phone.day.start).to_be_visible()
    phone.begin_session()
    phone.play(2)
    assert {step["arm"] for step in phone.page.evaluate(RUN)["plan"]["steps"]} == {other}
    phone.play_to_the_end()
    phone.rate({other: 1})
    phone.send()
    phone.sleep_until_morning()
    for standing in (phone.standing(), practice.standing(client.id, phone.today)):
        assert {name: each["mode"] for name, each in standing.items()} == {arm: "held", other: "training"}


@pytest.mark.long
@pytest.mark.parametrize("arm", ["right", "left"])
def test_one_arm_after_the_other_the_arm_at_work_is_recorded_and_only_it_is_held(phone, practice, client, arm):
    phone.begin_session()
    session = SessionScreen(phone.page)
    if arm == "left":
        phone.skip_to("warm_up", "left")
        expect(session.about).to_contain_text("left")
        phone.play(2)
    else:
        phone.play(TO_THE_FIRST_SET)
    sharp = stop_for_sharp_pain(phone)
    expect(sharp.saved).to_contain_text(f"{arm} arm")
    expect(sharp.caution).not_to_be_empty()
    # It is asked all the same, since the other arm may have hurt, and the one at work is marked.
    expect(sharp.answer("arm", arm).locator("input")).to_be_checked()
    tell_three(sharp)
    arms, sharp_told = in_force(phone)
    assert {name for name, each in arms.items() if each["sharp"]} == {arm}
    assert sharp_told == {"where": "inner_elbow", "like": "stab", "sign": False}
    sharp.leave.tap()
    see_held(phone, practice, client, arm)


@pytest.mark.long
def test_with_both_at_once_the_arm_is_asked_and_until_then_both_are_held(phone, practice, client):
    choose(phone.open_session(), ("arms", "both"))
    phone.play(TO_THE_FIRST_SET)
    sharp = stop_for_sharp_pain(phone)
    arms, _ = in_force(phone)
    assert [arms[arm]["sharp"] for arm in ("right", "left")] == [True, True]
    sharp.answer("arm", "left").tap()
    tell_three(sharp)
    arms, _ = in_force(phone)
    assert [arms[arm]["sharp"] for arm in ("right", "left")] == [False, True]
    sharp.leave.tap()
    see_held(phone, practice, client, "left")


@pytest.mark.long
def test_between_one_arm_and_the_other_the_arm_is_asked_and_until_then_both_are_held(phone, practice, client):
    phone.begin_session()
    phone.skip_to("change_arm")
    phone.play(2)
    sharp = stop_for_sharp_pain(phone)
    arms, _ = in_force(phone)
    assert {name for name, each in arms.items() if each["sharp"]} == {"right", "left"}
    sharp.answer("arm", "right").tap()
    tell_three(sharp)
    arms, _ = in_force(phone)
    assert {name for name, each in arms.items() if each["sharp"]} == {"right"}
    sharp.leave.tap()
    see_held(phone, practice, client, "right")

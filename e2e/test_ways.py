"""Ways to do a session: eased, short, at one's own pace, about sport, both arms at once; and choices that stay."""

from dataclasses import replace

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS, RUN
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER, BOOKBINDER

LEAD_IN = 6
TO_THE_FIRST_GATE = 12
TO_THE_FIRST_SET = 112


@pytest.fixture
def founder(one_phone, joined):
    """The bell founder's phone, linked."""
    joined(one_phone, BELL_FOUNDER)
    return one_phone


@pytest.fixture
def binder(one_phone, joined):
    """The bookbinder's phone, with two arms to work."""
    joined(one_phone, BOOKBINDER)
    return one_phone


def sets(phone):
    """Movement, reps, weight and range of each set of the session that is on."""
    steps = phone.page.evaluate(RUN)["plan"]["steps"]
    return [(s["movement"], s["reps"], s["load_kg"], s["range"]) for s in steps if s["kind"] == "reps"]


def finished(phone):
    """The bodies of the sessions in this phone's log, in order."""
    return [each["body"] for each in phone.page.evaluate(EVENTS) if each["kind"] == "session_finished"]


def choose(session, *ways):
    session.ways.tap()
    for name, value in ways:
        session.way(name, value).tap()
    session.main.tap()
    expect(session.running).to_be_visible()


def ease(phone, session, lever):
    session.ease_off.tap()
    session.easing(lever).tap()
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()


def test_what_is_eased_holds_for_the_rest_of_the_arms_sets_and_is_logged(founder, server, practice):
    founder.begin_session()
    session = SessionScreen(founder.page)
    founder.play(TO_THE_FIRST_SET)
    before_sets = sets(founder)
    session.ease_off.tap()
    expect(session.form_cues).to_have_count(2)
    session.easing("form").tap()
    founder.play(LEAD_IN)
    ease(founder, session, "range")
    assert [each[3] for each in sets(founder)] == [0.75] * 4
    ease(founder, session, "reps")
    now = sets(founder)
    assert [each[0] for each in now] == [each[0] for each in before_sets]
    assert all(after[1] <= before[1] for before, after in zip(before_sets, now, strict=True))
    title = session.title.inner_text()
    ease(founder, session, "leave")
    expect(session.title).not_to_have_text(title)
    founder.play_to_the_end()
    after = AfterScreen(founder.page)
    expect(after.title).to_have_text("Session over")
    assert after.list.all_inner_texts()[-1] == "Palm up, right arm: left out"
    founder.rate(2)
    founder.send()
    body = next(event["body"] for event in practice.log(1) if event["kind"] == "session_finished")
    assert [each["what"] for each in body["eased"]] == ["form", "range", "reps", "leave"]
    assert {each["movement"] for each in body["eased"]} == {before_sets[0][0]}
    assert body["done_steps"] == body["asked_steps"] - 1


def test_easing_names_the_arm_that_it_is_for_and_leaves_the_other_as_asked(binder):
    binder.begin_session()
    session = SessionScreen(binder.page)
    binder.stand_still()
    binder.skip_to("reps")
    ease(binder, session, "range")
    assert [each[3] for each in sets(binder)] == [0.75] * 4 + [1] * 4
    for arm in ("right", "left"):
        binder.skip_to("reps", arm)
        session.ease_off.tap()
        expect(session.eased_for).to_have_text(f"Or make one thing easier from now on ({arm} arm):")
        session.easing("form").tap()
        binder.play(LEAD_IN)


def test_a_lighter_weight_is_the_next_one_that_the_client_has(one_phone, joined):
    joined(one_phone, replace(BELL_FOUNDER, start_rung=12))
    one_phone.begin_session()
    session = SessionScreen(one_phone.page)
    one_phone.play(TO_THE_FIRST_SET)
    before = sets(one_phone)[0][2]
    ease(one_phone, session, "load")
    after = sets(one_phone)
    assert before > 0
    assert all(each[2] < before for each in after)
    weights = sorted({0.0, *(round(pounds * 0.45359237, 4) for pounds in (1, 2, 3))})
    assert after[0][2] == max(weight for weight in weights if weight < before)


def test_a_first_discomfort_is_called_ordinary_while_it_may_be_one(founder):
    founder.begin_session()
    session = SessionScreen(founder.page)
    expect(session.first_reps).to_be_hidden()
    founder.play(TO_THE_FIRST_SET)
    expect(session.first_reps).to_be_visible()
    founder.play(22)
    expect(session.first_reps).to_be_hidden()


def test_at_ones_own_pace_a_rep_waits_for_its_tap_and_a_stretch_does_not(founder):
    session = founder.open_session()
    choose(session, ("pace", "own"))
    founder.stand_still()
    founder.play(60)
    expect(session.numeral).to_have_text("1")
    steps = founder.page.evaluate(RUN)["plan"]["steps"]
    reps = [step for step in steps if step["reps"]]
    for number, step in enumerate(reps):
        expect(session.rep).to_be_visible()
        expect(session.title).to_have_text(step["name"])
        for rep in range(step["reps"]):
            expect(session.numeral).to_have_text(str(rep + 1))
            if (number + rep) % 2:
                session.rep.tap()
            else:
                founder.page.keyboard.press("Space")
        founder.play(22)
    founder.play_to_the_end()
    founder.rate(1)
    [body] = finished(founder)
    assert (body["ended"], body["ways"], body["done_steps"]) == ("completed", ["own_pace"], body["asked_steps"])


def test_at_ones_own_pace_taps_are_announced_and_movements_skipped_and_gone_back_to(founder):
    session = founder.open_session()
    expect(session.told_before).to_contain_text("Press Start once")
    session.ways.tap()
    session.way("pace", "own").tap()
    expect(session.told_before).to_contain_text("After each rep, tap")
    founder.open_session()
    expect(session.told_before).to_contain_text("After each rep, tap")
    session.main.tap()
    expect(session.running).to_be_visible()
    founder.stand_still()
    founder.play(TO_THE_FIRST_GATE)
    first = session.title.inner_text()
    session.skip.tap()
    expect(session.title).not_to_have_text(first)
    session.back.tap()
    expect(session.title).to_have_text(first)
    expect(session.rep).to_be_visible()
    expect(session.running).to_be_visible()


def test_the_picture_beside_the_easings_is_looked_at_and_touches_nothing(founder):
    session = founder.open_session()
    choose(session, ("pace", "own"))
    founder.stand_still()
    founder.play(TO_THE_FIRST_GATE)
    session.ease_off.tap()
    expect(session.easing("form")).to_be_visible()
    session.picture.tap()
    founder.play(LEAD_IN)
    expect(session.paused).to_be_visible()
    expect(session.rep).to_be_hidden()
    session.easing("form").tap()
    founder.play(LEAD_IN)
    expect(session.numeral).to_have_text("1")
    session.picture.tap()
    expect(session.numeral).to_have_text("2")


@pytest.mark.long
def test_a_short_day_has_all_four_directions_and_fewer_reps(founder):
    session = founder.open_session()
    choose(session, ("part", "short"))
    founder.play(2)
    short = sets(founder)
    whole = founder.page.evaluate(RUN)["plan"]["arms"][0]["dose"]["sets"]
    assert [each[0] for each in short] == [each["movement"] for each in whole]
    assert len(short) == 4
    assert all(min(5, each["reps"]) <= less[1] <= each["reps"] for each, less in zip(whole, short, strict=True))
    founder.play_to_the_end()
    founder.rate(1)
    assert finished(founder)[-1]["ways"] == ["short"]


def test_both_arms_at_once_are_rated_and_logged_as_two(binder):
    session = binder.open_session()
    choose(session, ("arms", "both"))
    expect(session.about).to_contain_text("both arms")
    binder.play_to_the_end()
    binder.rate({"right": 1, "left": 2})
    [body] = finished(binder)
    assert {arm: each["worst"] for arm, each in body["arms"].items()} == {"right": 1, "left": 2}
    assert body["ways"] == ["both"]


def test_one_arm_alone_leaves_the_other_to_be_done(binder):
    session = binder.open_session()
    choose(session, ("arms", "left"))
    binder.play_to_the_end()
    binder.rate({"left": 1})
    assert list(finished(binder)[0]["arms"]) == ["left"]
    expect(binder.day.start).to_be_visible()


def test_choices_stay_on_the_phone_but_for_those_of_one_session(founder):
    session = founder.open_session()
    session.ways.tap()
    for name, value in (("part", "short"), ("pace", "own"), ("speaker", "tones")):
        session.way(name, value).tap()
    session.way("hand").tap()
    session.time("rest").fill("75")
    session = founder.open_session()
    session.ways.tap()
    expect(session.way("part", "short").locator("input")).to_be_checked()
    founder.sleep_until_morning()
    founder.day.skip_report.tap()
    founder.day.ways.tap()
    session.ways.tap()
    for name, value in (("part", "whole"), ("pace", "own"), ("speaker", "tones")):
        expect(session.way(name, value).locator("input")).to_be_checked()
    expect(session.way("hand").locator("input")).to_be_checked()
    expect(session.time("rest")).to_have_value("75")
    session.main.tap()
    founder.play(2)
    rests = {step["seconds"] for step in founder.page.evaluate(RUN)["plan"]["steps"] if step["kind"] == "rest"}
    assert rests == {75}


def test_the_end_says_what_tomorrow_depends_on(founder):
    founder.begin_session()
    founder.play_to_the_end()
    after = AfterScreen(founder.page)
    expect(after.outlook.first).to_be_visible()
    assert after.outlook.count() >= 3
    assert after.list.count() == len(
        [s for s in founder.page.evaluate(RUN)["plan"]["steps"] if s["kind"] in {"warm_up", "reps", "hold"}]
    )


@pytest.mark.long
def test_a_session_answered_for_on_the_next_day_says_nothing_of_tomorrow(founder):
    founder.begin_session()
    founder.play(TO_THE_FIRST_SET)
    founder.sleep_until_morning()
    founder.day.answer_now.tap()
    after = AfterScreen(founder.page)
    expect(after.title).to_be_visible()
    founder.page.evaluate(RUN)
    expect(after.outlook).to_have_count(0)

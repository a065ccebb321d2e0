"""A week of a client who does not do as told, on two phones: each day's dose is the core's, and every sentence is true.

The week: stops in the middle, skips, never rates, presses 'Sharp pain' by mistake, corrects a morning, has sharp pain,
reports a sign of the whole body, joins a second phone, is pushed a routine while held, is released, and goes on.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import InvitationPage, RoutinePage
from e2e.phone import Phone
from e2e.screens import AfterScreen, MorningScreen, SessionScreen, SharpScreen, WarningsScreen
from e2e.server import servers_day
from e2e.sizes import SIZES, phone_options
from tests.cast import BOOKBINDER
from tests.words.promises import Turn, broken, claims, promised
from webapp.dosing.dose import dose
from webapp.words import reason_text, words_for

ENGLISH = words_for("en")
LEAD_IN = 6
A_FEW_REPS = 20
CALM = MappingProxyType({"right": 2, "left": 2})
ARMS = ("right", "left")
HELD = {"right": "held", "left": "held"}
TRAINING = {"right": "training", "left": "training"}
CLIENT = replace(BOOKBINDER, usual=2)
"""Starts on rung 3, so that a release has somewhere to come back to: a rung lower, at three quarters of the range."""


@pytest.fixture
def second(browser, server, evening) -> Iterator[Phone]:
    """Another phone of the same client, of the other size."""
    context = browser.new_context(**phone_options(*SIZES[0]), base_url=server.origin)
    yield Phone.switched_on(context, evening)
    context.close()


def leave_unrated(phone):
    """End the session on the page by a reason, and leave its question open for good."""
    session = SessionScreen(phone.page)
    session.stop.tap()
    session.why("time").tap()
    save_unrated(phone)


def save_unrated(phone):
    """Save a session without a number, which the page offers once saving was tried."""
    after = AfterScreen(phone.page)
    after.save.tap()
    after.unrated.tap()
    expect(phone.day.title).to_be_visible()


def lift_a_little(phone):
    """Begin, skip the warm-up, lift some reps of the first set, and skip the next two sets."""
    phone.begin_session()
    phone.skip_to("reps")
    phone.play_closely(A_FEW_REPS)
    for _ in range(2):
        SessionScreen(phone.page).skip.tap()
        phone.skip_to("reps")
    phone.context.clock.resume()


def press_sharp_by_mistake(phone):
    """Press it, take it back on the stop's own page, and take the session up again."""
    SessionScreen(phone.page).sharp.tap()
    sharp = SharpScreen(phone.page)
    sharp.mistake.tap()
    sharp.take_back.tap()
    expect(phone.day.taken_back).to_be_visible()
    phone.day.go_on.tap()
    session = SessionScreen(phone.page)
    expect(session.lead.or_(session.running)).to_be_visible()
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()


def stop_for_sharp_pain(phone, arm):
    """Stop, and say which arm it is and what it was like."""
    SessionScreen(phone.page).sharp.tap()
    sharp = SharpScreen(phone.page)
    for question, answer in (("arm", arm), ("where", "outer_elbow"), ("like", "stab"), ("sign", "no")):
        sharp.answer(question, answer).tap()
    sharp.save.tap()
    sharp.leave.tap()
    expect(phone.day.title).to_be_visible()


def correct_morning(phone, arm, pain):
    """Put one arm's number of this morning right."""
    MorningScreen(phone.page).way.tap()
    MorningScreen(phone.page).pain(arm, pain).tap()
    MorningScreen(phone.page).save.tap()
    expect(phone.day.reported).to_be_visible()


def report_pressure_in_the_chest(phone):
    """Report a sign that is of no arm."""
    warnings = WarningsScreen(phone.page)
    warnings.way.tap()
    warnings.sign("chest").tap()
    warnings.report.tap()
    warnings.back.tap()
    expect(phone.day.stopped).to_be_visible()


class Compared:
    """Phones and server side by side, day after day; each closed day is read once, under the routine that it had."""

    def __init__(self, practice, client) -> None:
        self.practice, self.client, self.read = practice, client, set()

    def __call__(self, *phones):
        """See that phones and server agree on today, and that what is said is true; return what today asks, by arm."""
        for phone in phones:
            phone.send()
        today = phones[0].today
        accounts = self.practice.accounts(self.client.id, today)
        server_says = self.practice.standing(self.client.id, today)
        for phone in phones:
            phone.send()
            phone_says = phone.standing()
            for arm, said in server_says.items():
                assert {name: phone_says[arm][name] for name in said} == said, (today, arm)
            read_reasons(phone, phone_says)
        for arm, account in accounts.items():
            new = [day for day in account.days if (arm, day.on) not in self.read]
            read_days(account.plan, new)
            self.read |= {(arm, day.on) for day in new}
        return {arm: dose(account.plan, account.state) for arm, account in accounts.items()}


def read_reasons(phone, standing):
    """The page shows the reason of each arm that it speaks of, in the words of the look-up's own codes."""
    page = phone.page.locator("#page")
    for arm in standing.values():
        if phone.day.why.is_visible() and arm["mode"] != "held":
            for code in arm["why"]:
                expect(page).to_contain_text(reason_text(ENGLISH, code))
    for arm, state in standing.items():
        if state["mode"] == "held":
            expect(phone.day.stopped.or_(phone.day.held_arms.filter(has_text=f"{arm} arm"))).to_be_visible()


def read_days(plan, days):
    """Every closed day's sentences promise what came of it, and nothing else."""
    for day in days:
        turn = Turn(plan, day.state_before, day.response, day.state_after, day.dose, dose(plan, day.state_after))
        said = [reason_text(ENGLISH, code) for code in day.reasons]
        assert not broken(turn, [change for sentence in said for change in promised(sentence)]), (day.on, said)
        for sentence in said:
            assert all(holds(turn) for holds in claims(sentence).values()), (day.on, sentence)


@pytest.mark.long
def test_a_week_against_all_advice_ends_where_the_core_says_and_never_above_the_stop(
    desk, one_phone, second, server, practice
):
    client = practice.enrol(CLIENT)
    one_phone.join_by_link(client.token)
    compared = Compared(practice, client)
    before = days_of_half_work(one_phone, compared)
    server.kill()
    two_days_of_stops(one_phone)
    server.start()
    compared(one_phone)
    assert modes(one_phone) == HELD

    hedda = Desk.signed_in(desk)
    hedda.open_case(CLIENT.name)
    hedda.case.unfold("phones")
    hedda.case.make_code.click()
    second.context.clock.fast_forward(int((one_phone.now - second.now) / timedelta(milliseconds=1)))
    second.join_by_code(InvitationPage(hedda.page).code.inner_text())
    compared(second, one_phone)
    assert modes(second) == HELD

    for phone in (one_phone, second):
        phone.sleep_until_the_servers_day()
    push_while_held(hedda)
    doses = compared(one_phone, second)
    assert modes(one_phone) == modes(second) == HELD
    assert not any(each.sets for each in doses.values())

    for arm in ARMS:
        hedda.release_seen(CLIENT.name, arm, servers_day())
    see_no_more_than(before, compared(one_phone, second))
    assert modes(one_phone) == modes(second) == TRAINING

    lift_a_little(second)
    leave_unrated(second)
    for phone in (second, one_phone):
        phone.sleep_until_morning()
    second.report_morning(CALM)
    see_no_more_than(before, compared(second, one_phone))


def days_of_half_work(phone, compared):
    """Work in part and unrated, press sharp by mistake, correct a morning; return what the third day asks of each arm."""
    lift_a_little(phone)
    leave_unrated(phone)

    phone.sleep_until_morning()
    phone.report_morning(CALM)
    compared(phone)
    lift_a_little(phone)
    press_sharp_by_mistake(phone)
    phone.skip_to_the_end()
    save_unrated(phone)

    phone.sleep_until_morning()
    phone.report_morning({"right": 7, "left": 2})
    expect(phone.day.why).to_contain_text(reason_text(ENGLISH, "rest-and-ease"))
    correct_morning(phone, "right", 3)
    doses = compared(phone)
    assert modes(phone) == TRAINING
    return doses


def two_days_of_stops(phone):
    """Sharp pain in one arm, and on the next morning a sign of the whole body."""
    lift_a_little(phone)
    stop_for_sharp_pain(phone, "right")
    expect(phone.day.held_arms).to_have_text(["Stopped: right arm"])
    phone.sleep_until_morning()
    assert modes(phone) == {"right": "held", "left": "training"}
    report_pressure_in_the_chest(phone)
    phone.sleep_until_morning()


def push_while_held(hedda):
    """Push a routine with another ladder: more reps at the top."""
    hedda.open_case(CLIENT.name)
    hedda.case.change_routine.click()
    sheet = RoutinePage(hedda.page)
    sheet.most_reps.fill("28")
    expect(sheet.start_rung).to_have_count(0)
    hedda.push("Pushed while held")
    expect(hedda.case.versions).to_have_count(2)


def see_no_more_than(before, doses):
    """No arm is asked for longer sets, more weight, a wider range or more work in a day than before the stop."""
    for arm, now in doses.items():
        was = before[arm]
        assert now.sets, arm
        assert now.work_j <= was.work_j, (arm, now, was)
        for each, then in zip(now.sets, was.sets, strict=True):
            assert (each.reps <= then.reps, each.load_kg <= then.load_kg, each.range <= then.range) == (True,) * 3, arm


def modes(phone):
    """Whether each arm trains, rests or is held, by this phone's look-up."""
    return {arm: state["mode"] for arm, state in phone.standing().items()}

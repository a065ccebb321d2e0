"""A client's days with the server dead: sessions, morning reports, and the next dose, all on the phone alone."""

import pytest
from playwright.sync_api import expect

from e2e.phone import ALL_SENT
from tests.cast import BELL_FOUNDER, BOOKBINDER

SAME = ("rung", "ease", "mode", "settled_streak", "work_j", "sessions", "response")


@pytest.mark.long
def test_three_days_on_a_dead_server_end_in_the_state_that_the_server_comes_to(phone, server, practice, joined):
    client = joined(phone, BELL_FOUNDER)
    server.kill()
    phone.open()
    first = phone.standing()["right"]

    for _ in range(3):
        # Both short sessions of the first week's day: with one alone, less than enough is done.
        phone.do_session(worst=1)
        phone.do_session(worst=1)
        phone.sleep_until_morning()
        phone.report_morning(1)
        phone.sleep_until_evening()

    decided = phone.standing()["right"]
    assert (decided["response"], decided["why"]) == ("settled", ["first-week-fuller"])
    assert decided["work_j"] > first["work_j"]
    assert phone.log()["unsent"] >= 9

    server.start()
    phone.send()

    logged = [event["id"] for event in practice.log(client.id)]
    assert sorted(logged) == sorted(phone.log()["ids"])
    assert len(logged) == len(set(logged))
    assert _same(practice.standing(client.id, phone.today)["right"]) == _same(decided)
    assert _same(phone.standing()["right"]) == _same(decided)


def test_a_batch_cut_off_by_a_dying_server_arrives_once(phone, server, practice, joined):
    client = joined(phone, BELL_FOUNDER)
    server.kill()
    phone.skip_session(worst=2)
    server.start()
    phone.context.route("**/api/sync", swallow)
    phone.send_in_vain()
    assert [event["kind"] for event in practice.log(client.id)].count("session_finished") == 1
    # Asked while answers are still lost: the phone tries again by itself.
    assert phone.log()["unsent"] >= 1
    phone.context.unroute("**/api/sync", swallow)

    phone.send()

    assert [event["kind"] for event in practice.log(client.id)].count("session_finished") == 1
    assert phone.log()["unsent"] == 0


def test_both_arms_are_led_through_one_session_and_followed_each_on_its_own(phone, server, practice, joined):
    client = joined(phone, BOOKBINDER)
    server.kill()
    phone.do_session(worst={"right": 1, "left": 5})
    phone.sleep_until_morning()
    phone.report_morning({"right": 1, "left": 4})
    standing = phone.standing()
    assert (standing["right"]["response"], standing["left"]["response"]) == ("partly", "tender")

    server.start()
    phone.send()

    server_says = practice.standing(client.id, phone.today)
    assert {arm: _same(arm_state) for arm, arm_state in server_says.items()} == {
        arm: _same(arm_state) for arm, arm_state in standing.items()
    }


def test_the_day_page_says_what_waits_and_then_that_all_is_sent(phone, server, joined):
    joined(phone, BELL_FOUNDER)
    server.kill()
    phone.skip_session(worst=1)
    expect(phone.day.sent).not_to_contain_text(ALL_SENT)
    server.start()
    phone.send()
    expect(phone.day.sent).to_contain_text(ALL_SENT)


def swallow(route):
    """Let what the phone sends arrive, and no answer come back."""
    route.fetch()
    route.abort()


def _same(arm_state):
    return {name: arm_state[name] for name in SAME}

"""What soreness does to the next days: rest and a smaller dose after a flare, nothing at all after sharp pain."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.screens import MorningScreen
from tests.cast import BELL_FOUNDER


@pytest.fixture
def phone(one_phone):
    """Nothing here depends on the size of the screen."""
    return one_phone


@pytest.fixture
def client(phone, joined):
    return joined(phone, BELL_FOUNDER)


def test_a_flare_brings_a_day_of_rest_with_its_reason_and_then_an_eased_dose(phone, server, client):
    server.kill()
    usual = phone.standing()["right"]
    phone.do_session(worst=2)
    phone.sleep_until_morning()
    phone.report_morning(6)

    expect(phone.day.rest).to_be_visible()
    expect(phone.day.why).not_to_be_empty()
    expect(phone.day.start).not_to_be_visible()
    assert phone.standing()["right"]["why"] == ["rest-and-ease"]

    phone.sleep_until_evening()
    phone.sleep_until_morning()
    phone.report_morning(1)

    expect(phone.day.start).to_be_visible()
    back = phone.standing()["right"]
    assert (back["mode"], back["ease"]) == ("training", 1)
    assert back["work_j"] < usual["work_j"]


def test_a_bad_session_ends_the_day_at_once(phone, server, client):
    server.kill()
    phone.do_session(worst=7)
    expect(phone.day.enough).to_be_visible()
    expect(phone.day.start).not_to_be_visible()


def test_sharp_pain_holds_until_the_practitioner_releases(phone, server, client, desk, practice):
    server.kill()
    phone.stop_for_sharp_pain()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.start).not_to_be_visible()
    phone.sleep_until_morning()
    expect(phone.day.stopped).to_be_visible()
    assert phone.standing()["right"]["mode"] == "held"

    server.start()
    phone.sleep_until_the_servers_day()
    phone.send()
    expect(phone.day.stopped).to_be_visible()
    at_the_desk = Desk.signed_in(desk)
    at_the_desk.release(BELL_FOUNDER.name, "1@0.75")
    phone.send()

    released = phone.standing()["right"]
    assert (released["mode"], released["rung"]) == ("training", 1)
    expect(phone.day.start.or_(phone.day.skip_report)).to_be_visible()
    assert practice.standing(client.id, phone.today)["right"]["mode"] == "training"


def test_a_morning_put_right_decides_the_day_anew(phone, server, client):
    server.kill()
    phone.do_session(worst=2)
    phone.sleep_until_morning()
    phone.report_morning(6)
    expect(phone.day.rest).to_be_visible()
    put_morning_right(phone, 1)
    expect(phone.day.start).to_be_visible()
    assert phone.standing()["right"]["response"] == "partly"


def test_a_sharp_first_morning_stops_the_first_day(phone, server, client, practice):
    expect(phone.day.start).to_be_visible()
    phone.report_morning(8, sharp="yes")
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.start).not_to_be_visible()
    phone.send()
    phone.sleep_until_morning()
    expect(phone.day.stopped).to_be_visible()
    for standing in (phone.standing(), practice.standing(client.id, phone.today)):
        assert standing["right"]["mode"] == "held"


def put_morning_right(phone, pain):
    """Correct this morning's number for the right arm."""
    MorningScreen(phone.page).way.tap()
    MorningScreen(phone.page).pain("right", pain).tap()
    MorningScreen(phone.page).save.tap()
    expect(phone.day.reported).to_be_visible()

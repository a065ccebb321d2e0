"""The settings in one place, and one's own data: chosen, taken along and left, without a network where that can be."""

import csv
import json
from html.parser import HTMLParser
from pathlib import Path

import pytest
from ical.calendar_stream import IcsCalendarStream
from playwright.sync_api import expect

from e2e.settings import DataScreen, RemindersScreen, SettingsScreen
from tests.cast import BELL_FOUNDER

GROUND = "() => getComputedStyle(document.documentElement).backgroundColor"
NIGHT, DAY = "rgb(30, 16, 38)", "rgb(210, 227, 211)"
FONT = "() => getComputedStyle(document.documentElement).fontSize"


class Cells(HTMLParser):
    """The text of each cell of a page's table."""

    def __init__(self):
        super().__init__()
        self.cells = []
        self._is_in = False

    def handle_starttag(self, tag, attrs):
        assert tag not in {"script", "link", "img"}, attrs
        self._is_in = tag == "td"
        if self._is_in:
            self.cells.append("")

    def handle_data(self, data):
        if self._is_in:
            self.cells[-1] += data

    def handle_endtag(self, _tag):
        self._is_in = False


@pytest.fixture
def client(one_phone, joined):
    """A client with a routine."""
    return joined(one_phone, BELL_FOUNDER)


@pytest.fixture
def settings(one_phone, client):
    """The settings, opened from the day page."""
    found = SettingsScreen(one_phone.page)
    found.way.tap()
    expect(found.title).to_be_visible()
    return found


def saved(page, button):
    """Press a button that hands over a file; its name and its text, byte for byte."""
    with page.expect_download() as download:
        button.tap()
    return download.value.suggested_filename, Path(download.value.path()).read_bytes().decode("utf-8")


def test_light_and_size_are_chosen_once_and_are_there_when_the_app_opens_without_a_network(one_phone, server, settings):
    page = one_phone.page
    before = float(page.evaluate(FONT).removesuffix("px"))
    settings.choice("theme", "dark").check(force=True)
    settings.choice("text", "larger").check(force=True)
    assert page.evaluate(GROUND) == NIGHT
    server.kill()
    one_phone.open()
    assert page.evaluate(GROUND) == NIGHT
    assert float(page.evaluate(FONT).removesuffix("px")) == 1.25 * before
    page.emulate_media(color_scheme="dark")
    settings.way.tap()
    settings.choice("theme", "light").check(force=True)
    assert page.evaluate(GROUND) == DAY
    settings.choice("theme", "phone").check(force=True)
    assert page.evaluate(GROUND) == NIGHT
    page.emulate_media(color_scheme="light")
    assert page.evaluate(GROUND) == DAY


@pytest.mark.long
def test_what_is_chosen_for_the_session_is_what_start_plays(one_phone, settings):
    page = one_phone.page
    settings.choice("speaker", "tones").check()
    settings.seconds("up").fill("4")
    one_phone.open()
    one_phone.begin_session()
    one_phone.skip_to("reps")
    run = page.evaluate("""async () => {
      const { createClock, createStore } = halfturnModules;
      return createStore(createClock(), () => {}).loadRun();
    }""")
    assert {step["up"] for step in run["plan"]["steps"] if step["kind"] == "reps"} == {4}


def test_the_days_go_into_files_of_three_kinds_without_a_network(one_phone, server, client):
    one_phone.skip_session(worst=2)
    server.kill()
    page, data = one_phone.page, DataScreen(one_phone.page)
    SettingsScreen(page).way.tap()
    SettingsScreen(page).data.tap()
    name, text = saved(page, data.save_all)
    entries = json.loads(text)["entries"]
    assert name.endswith(".json")
    assert [entry["kind"] for entry in entries] == one_phone.log()["kinds"]
    name, text = saved(page, data.save_table)
    rows = list(csv.DictReader(text.removeprefix("\ufeff").splitlines()))
    assert name.endswith(".csv")
    assert {row["kind"] for row in rows} == {entry["kind"] for entry in entries}
    assert {row["worst"] for row in rows if row["kind"] == "session_finished"} == {"2"}
    name, text = saved(page, data.save_page)
    reader = Cells()
    reader.feed(text)
    assert name.endswith(".html")
    days = sorted({entry["on"] for entry in entries})
    assert len(reader.cells) == 2 * len(days)
    assert sum("At its worst 2 of 10." in cell for cell in reader.cells) == 1


def test_nothing_is_removed_before_it_is_sent_or_saved(one_phone, server, client):
    server.kill()
    one_phone.skip_session(worst=2)
    page, data = one_phone.page, DataScreen(one_phone.page)
    SettingsScreen(page).way.tap()
    SettingsScreen(page).data.tap()
    unsent = one_phone.log()["unsent"]
    data.leave.tap()
    expect(data.count).to_contain_text(f"{unsent} entr")
    expect(data.leave_now).to_be_disabled()
    expect(data.blocked).to_have_text("Possible once they are sent or saved.")
    saved(page, data.save_first)
    expect(data.leave_now).to_be_enabled()
    expect(data.blocked).to_be_hidden()
    data.leave_now.tap()
    page.wait_for_url("**#join")
    assert one_phone.log()["ids"] == []


def test_reminders_are_made_without_a_network_and_again_after_a_change(one_phone, server, settings):
    server.kill()
    page, reminders = one_phone.page, RemindersScreen(one_phone.page)
    reminders.way.tap()
    reminders.time("morning").fill("06:45")
    name, text = saved(page, reminders.make)
    assert name == "halfturn-reminders.ics"
    [first, second] = IcsCalendarStream.calendar_from_ics(text).events
    assert (first.dtstart.hour, first.dtstart.minute, second.dtstart.hour) == (6, 45, 8)
    page.reload()
    expect(reminders.time("morning")).to_have_value("06:45")
    reminders.time("session").fill("")
    _, text = saved(page, reminders.make)
    [again] = IcsCalendarStream.calendar_from_ics(text).events
    assert (again.uid, again.sequence) == (first.uid, first.sequence + 1)
    reminders.time("morning").fill("")
    reminders.make.tap()
    expect(reminders.fault).to_have_text("Choose at least one time.")
    expect(reminders.made).to_be_hidden()


@pytest.mark.long
def test_an_address_follows_the_times_and_ends_when_asked(one_phone, server, settings):
    page, reminders = one_phone.page, RemindersScreen(one_phone.page)
    reminders.way.tap()
    reminders.make_address.tap()
    expect(reminders.address).to_be_visible()
    address = reminders.address.inner_text()

    def followed():
        answer = page.request.get(address)
        return IcsCalendarStream.calendar_from_ics(answer.text()).events if answer.ok else answer.status

    assert [event.dtstart.hour for event in followed()] == [7, 8]
    reminders.time("session").fill("19:15")
    with page.expect_response("**/api/feed"):
        saved(page, reminders.make)
    expect(reminders.address).to_have_text(address)
    assert [event.dtstart.hour for event in followed()] == [7, 19]
    server.kill()
    reminders.make_address.tap()
    expect(reminders.address_fault).to_contain_text("No answer from the practice")
    server.start()
    reminders.end_address.tap()
    expect(reminders.address).to_be_hidden()
    assert followed() == 404


@pytest.mark.long
def test_whoever_wants_to_leave_the_practice_writes_it_once(one_phone, practice, client):
    page, data = one_phone.page, DataScreen(one_phone.page)
    SettingsScreen(page).way.tap()
    SettingsScreen(page).data.tap()
    data.ask.tap()
    expect(data.question).to_be_visible()
    expect(data.ask).to_be_hidden()
    page.reload()
    expect(data.question).to_be_visible()
    one_phone.open()
    one_phone.send()
    letters = [event["body"]["text"] for event in practice.log(client.id) if event["kind"] == "letter_written"]
    assert letters == ["I want to leave the practice. Please end it on your side, and tell me what is kept."]


@pytest.mark.long
def test_weights_and_arms_are_called_as_chosen_without_a_network(one_phone, settings, server):
    page = one_phone.page
    server.kill()
    settings.choice("unit", "kg").tap(force=True)
    page.locator("#page input[name=right]").fill("hammer arm")
    settings.title.tap()
    page.reload()
    expect(settings.choice("unit", "kg")).to_be_checked()
    one_phone.open()
    expect(page.locator("#page .date-about")).to_contain_text("right arm (hammer arm)")
    one_phone.do_session(worst=1)

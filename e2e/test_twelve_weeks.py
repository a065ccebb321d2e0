"""Twelve weeks of one client, day by day through the real pages: each dose is the one that the core's fold of the log asks.

The weeks: calm mornings, a flare in week 3, a week away in week 6, sport from week 8 on, sharp pain and a release in week 9, and on to the
end of week 12, when the desk ends the course and the phone makes the summary. Once a week the phone sends, and what its page of the weeks draws and tables is held to the log. With
TWELVE_WEEKS_PICTURES=FOLDER in the environment pictures of weeks 1, 3, 6, 9 and 12 are put there.
"""

import os
import re
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from types import MappingProxyType

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.past_pages import ClosingScreen, WeeksScreen
from e2e.phone import Phone
from e2e.server import servers_day
from e2e.sizes import WAIT_MILLISECONDS, phone_options
from tests.cast import BELL_FOUNDER
from webapp.dosing.dose import dose

WEEK = 7
LAST_DAY = 12 * WEEK
FLARE_DAY, FLARE = 16, 7
AWAY = range(36, 43)
SPORT_DAYS = frozenset(range(51, LAST_DAY + 1, 4))
STOP_DAY, RELEASE_DAY = 58, 62
CALM, TENDER = 1, 3
TENDER_DAYS = frozenset({9, 10, 30})
COMPARED = ("rung", "ease", "mode", "settled_streak", "gap_days")
ARM = "right"
SHOWN_DAYS = 28
HIGHEST = 1800
TICK_MS, LONGEST_WAIT = 100, 100
PICTURED = (1, 3, 6, 9, 12)
PICTURES = os.environ.get("TWELVE_WEEKS_PICTURES")
ALL_DRAWN = "() => [...document.querySelectorAll('#page [data-plot]')].every((plot) => plot.querySelector('svg'))"
HEIGHTS = "all => all.map((column) => column.getBBox().height)"
UNIT, THINNEST = 0.62 * 15, 3
"""How high one point of pain and the lowest column are drawn, in CSS pixels; for 0 the thinnest column is drawn."""


@pytest.fixture
def long_phone(browser, server):
    """A phone whose first day lies so far back that the stop of week 9 is released on the desk's own day."""
    begins = servers_day() - timedelta(days=RELEASE_DAY - 1)
    context = browser.new_context(**phone_options(), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield Phone.switched_on(context, datetime.combine(begins, time(8), UTC))
    context.close()


class Life:
    """The client's days; what the phone said of each, to be compared with the log's fold in the end."""

    def __init__(self, phone, practice, client) -> None:
        self.phone, self.practice, self.client = phone, practice, client
        self.said = {}
        self.mornings = {}

    def live(self, day) -> None:
        """One day from its morning to its night."""
        phone = self.phone
        if day in AWAY:
            return phone.sleep_until_morning()
        if day > 1:
            self.mornings[day] = _morning(day)
            phone.report_morning(self.mornings[day])
        if day == AWAY.stop:
            phone.day.away.locator("[value=travelling]").check()
            phone.day.away.locator("[data-act=save]").tap()
            expect(phone.day.away).to_be_hidden()
        standing = self.said[phone.today] = phone.standing()[ARM]
        if standing["mode"] == "training":
            self.train(day, standing["sessions"])
        if day in SPORT_DAYS:
            phone.be_on_the_day_page()
            phone.page.locator('[data-what="sport"]').tap()
        return phone.sleep_until_morning()

    def train(self, day, sessions) -> None:
        """Do the day's sessions; on the day of the stop press 'Sharp pain' in the first set."""
        if day == STOP_DAY:
            return self.phone.stop_for_sharp_pain()
        for _ in range(sessions):
            self.phone.do_session(worst=CALM)
        return None

    def compare(self, day) -> None:
        """Send, then see that every day's dose on the phone was the fold's, and that the page of the weeks shows it."""
        self.phone.send()
        account = self.practice.accounts(self.client.id, self.phone.today)[ARM]
        by_day = {closed.on: closed for closed in account.days}
        for on, said in self.said.items():
            closed = by_day.get(on)
            state = closed.state_before if closed else account.state
            assert {name: said[name] for name in COMPARED} == {name: getattr(state, name) for name in COMPARED}, on
            assert said["work_j"] == round(dose(account.plan, state).work_j, 2), on
        self.read_weeks(account, day)

    def read_weeks(self, account, day) -> None:
        """What the page of the weeks draws, and says in its tables, is what was reported and what the core asked."""
        weeks = WeeksScreen(self.phone.page)
        weeks.way.tap()
        self.let_time_pass(weeks.whole)
        expect(weeks.drawings).to_have_count(3)
        for table in weeks.tables.all():
            table.tap()
        reported = _by_day(weeks.cells("mornings", ARM, 0), weeks.cells("mornings", ARM, 1))
        assert reported == {n: str(self.mornings.get(n, "not known")) for n in reported}, day
        assert len(reported) == min(day + 1, SHOWN_DAYS)
        heights = weeks.columns("mornings", ARM, "plot-pain", "plot-over").evaluate_all(HEIGHTS)
        drawn = [self.mornings[n] for n in sorted(reported) if n in self.mornings]
        assert heights == pytest.approx([max(pain * UNIT, THINNEST) for pain in drawn], abs=0.11), day
        work = _by_day(weeks.cells("work", ARM, 0), weeks.cells("work", ARM, 2))
        reps = _by_day(weeks.cells("stair", ARM, 0), weeks.cells("stair", ARM, 1))
        first = account.days[0].on
        for closed in account.days:
            number = (closed.on - first).days + 1
            if number in work and closed.dose.sets:
                joules = float(re.match(r"[\d.]+", work[number])[0])
                assert joules == pytest.approx(closed.dose.work_j, abs=0.51), number
                assert reps[number] == str(closed.dose.sets[0].reps), number
        self.take_pictures(day)
        self.phone.day.way.tap()

    def let_time_pass(self, until) -> None:
        """Move the clock on until something is seen: past 2^31 ms from its start Playwright's clock fires nothing by itself."""
        for _ in range(LONGEST_WAIT):
            if until.is_visible():
                return
            self.phone.context.clock.fast_forward(TICK_MS)
        expect(until).to_be_visible()

    def take_pictures(self, day) -> None:
        """Keep the page of the weeks as a picture, where a folder is named. Plots are drawn once they are in the window."""
        if PICTURES and day // WEEK in PICTURED and day % WEEK == 0:
            page = self.phone.page
            window = page.viewport_size
            for table in WeeksScreen(page).tables.all():
                table.tap()
            page.set_viewport_size({**window, "height": HIGHEST})
            for turn in range(LONGEST_WAIT * WEEK):
                self.phone.context.clock.fast_forward(TICK_MS)
                if turn > LONGEST_WAIT and page.evaluate(ALL_DRAWN):
                    break
            assert page.evaluate(ALL_DRAWN), day
            page.screenshot(path=Path(PICTURES) / f"week-{day // WEEK:02}.png", full_page=True, scale="css")
            page.set_viewport_size(window)

    def take_summary(self) -> None:
        """Keep the summary as a picture, where a folder is named."""
        if PICTURES:
            self.phone.page.screenshot(path=Path(PICTURES) / "week-12-summary.png", full_page=True, scale="css")


def _by_day(days, cells):
    """The cells of a table by the day's number, which its first cell begins with."""
    numbers = [int(re.match(r"\d+", text)[0]) for text in days.all_text_contents()]
    return dict(zip(numbers, cells.all_text_contents(), strict=True))


def _morning(day):
    if day == FLARE_DAY:
        return FLARE
    return TENDER if day in TENDER_DAYS else CALM


def let_go_on(hedda):
    """Release the arm to the most that the desk offers."""
    hedda.open_case(BELL_FOUNDER.name)
    most = hedda.case.release_choice.locator("option").nth(1).get_attribute("value")
    hedda.release(BELL_FOUNDER.name, most)


def finish(hedda, life):
    """End the course at the desk; the summary on the phone tells the twelve weeks as they were led."""
    phone = life.phone
    hedda.finish(BELL_FOUNDER.name, phone.today, "Twelve weeks, well led.", phone.today + timedelta(days=30))
    phone.send()
    phone.open()
    closing = ClosingScreen(phone.page)
    closing.way.tap()
    life.let_time_pass(closing.whole)
    sessions = [each for each in life.practice.log(life.client.id) if each["kind"] == "session_finished"]
    worked = {each["on"] for each in sessions if any(played["reps"] for played in each["body"]["arms"][ARM]["sets"])}
    expect(closing.whole).to_contain_text(f"on {len(worked)} days.")
    for text in ("Stopped on", "let it start again on", "Twelve weeks, well led.", "To be seen again on"):
        expect(closing.whole).to_contain_text(text)
    life.take_summary()


@pytest.mark.long
def test_twelve_weeks_are_led_through_as_the_core_says(desk, long_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    long_phone.join_by_link(client.token)
    life = Life(long_phone, practice, client)
    for day in range(1, LAST_DAY + 1):
        if day == RELEASE_DAY:
            life.compare(day - 1)
            assert long_phone.standing()[ARM]["mode"] == "held"
            let_go_on(hedda := Desk.signed_in(desk))
            long_phone.send()
        life.live(day)
        if day % WEEK == 0:
            life.compare(day)
    finish(hedda, life)
    modes = MappingProxyType({on: said["mode"] for on, said in life.said.items()})
    assert set(modes.values()) == {"training", "resting", "held"}

"""Twelve weeks of one client, day by day through the real pages: each dose is the one that the core's fold of the log asks.

The weeks: calm mornings, a flare in week 3, a week away in week 6, sport from week 8 on, sharp pain and a release in week 9, and on to the
end of week 12. The phone is mostly without a network, and sends once a week.
"""

from datetime import UTC, datetime, time, timedelta
from types import MappingProxyType

import pytest

from e2e.desk import Desk
from e2e.phone import Phone
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


@pytest.fixture
def long_phone(browser, server):
    """A phone whose first day lies so far back that the stop of week 9 is released on the desk's own day."""
    begins = datetime.now(UTC).date() - timedelta(days=RELEASE_DAY - 1)
    context = browser.new_context(**phone_options(), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield Phone.switched_on(context, datetime.combine(begins, time(8), UTC))
    context.close()


class Life:
    """The client's days; what the phone said of each, to be compared with the log's fold in the end."""

    def __init__(self, phone, practice, client) -> None:
        self.phone, self.practice, self.client = phone, practice, client
        self.said = {}

    def live(self, day) -> None:
        """One day from its morning to its night."""
        phone = self.phone
        if day in AWAY:
            return phone.sleep_until_morning()
        if day > 1:
            phone.report_morning(_morning(day))
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

    def compare(self) -> None:
        """Send, then see that every day's dose on the phone was the fold's."""
        self.phone.send()
        account = self.practice.accounts(self.client.id, self.phone.today)[ARM]
        by_day = {day.on: day for day in account.days}
        for on, said in self.said.items():
            day = by_day.get(on)
            state = account.state if day is None else day.state_before
            assert {name: said[name] for name in COMPARED} == {name: getattr(state, name) for name in COMPARED}, on
            assert said["work_j"] == round(dose(account.plan, state).work_j, 2), on


def _morning(day):
    if day == FLARE_DAY:
        return FLARE
    return TENDER if day in TENDER_DAYS else CALM


def let_go_on(hedda):
    """Release the arm to the most that the desk offers."""
    hedda.open_case(BELL_FOUNDER.name)
    most = hedda.case.release_choice.locator("option").nth(1).get_attribute("value")
    hedda.release(BELL_FOUNDER.name, most)


@pytest.mark.long
def test_twelve_weeks_are_led_through_as_the_core_says(desk, long_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    long_phone.join_by_link(client.token)
    life = Life(long_phone, practice, client)
    for day in range(1, LAST_DAY + 1):
        if day == RELEASE_DAY:
            life.compare()
            assert long_phone.standing()[ARM]["mode"] == "held"
            let_go_on(Desk.signed_in(desk))
            long_phone.send()
        life.live(day)
        if day % WEEK == 0:
            life.compare()
    modes = MappingProxyType({on: said["mode"] for on, said in life.said.items()})
    assert set(modes.values()) == {"training", "resting", "held"}

"""A client's phone as the stories use it: joining, its clock moved on, put away and taken out, its own state read."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from playwright.sync_api import BrowserContext, Locator, Page, expect

from e2e.phone_reading import IS_KEPT, LOG, RUN, SETTLED, STANDING
from e2e.screens import (
    AfterScreen,
    CodeScreen,
    DayScreen,
    JoinPage,
    PhoneScreen,
    SessionScreen,
    SharpScreen,
)
from e2e.server import servers_day
from e2e.sources import modules

SHELL = "/app/en/"
ALL_SENT = "Everything is sent."
NO_ANSWER = re.compile("^No answer from the practice just now")
QUIET_SOUND = Path(__file__).with_name("quiet_sound.js")
SECOND = 1000
LOOK_EVERY = 20
STRIDE = 2  # seconds between two looks of the page where nobody watches; an absence is more than three
LONGEST_SESSION = 2400
SECONDS_TO_THE_FIRST_SET = 120
DAY_STARTS = timedelta(hours=3)
MORNING, EVENING = time(7, 30), time(18)


@dataclass
class Phone:
    """One phone: a browser context with one page, whose clock the story moves."""

    context: BrowserContext
    page: Page
    shell: str = SHELL

    @classmethod
    def switched_on(cls, context: BrowserContext, at: datetime, language: str = "en") -> Phone:
        """A phone that nobody has used, at a given instant."""
        context.clock.install(time=at)
        for script in (QUIET_SOUND.read_text(encoding="utf-8"), modules()):
            context.add_init_script(script)
        return cls(context, context.new_page(), f"/app/{language}/")

    @property
    def day(self) -> DayScreen:
        """The day page."""
        return DayScreen(self.page)

    def join_by_link(self, token: str) -> None:
        """Open the invitation, accept it, and wait until the day page is there and kept for use without a network."""
        self.page.goto(f"/join#{token}")
        JoinPage(self.page).accept.tap()
        self.wait_until_kept()

    def join_by_code(self, code: str) -> None:
        """Type a short code inside the app, as one does after putting it on the home screen."""
        self.page.goto(f"{self.shell}#join")
        CodeScreen(self.page).code.fill(code)
        CodeScreen(self.page).link.tap()
        self.wait_until_kept()

    def wait_until_kept(self) -> None:
        """Wait until the app would start without a network."""
        self.page.wait_for_url(f"**{self.shell}**")
        day = self.day
        asks = day.start.or_(day.stopped).or_(day.begin_questions)
        expect(asks.or_(day.all_the_same).or_(day.ended)).to_be_visible()
        self.page.evaluate(IS_KEPT)

    def open(self) -> None:
        """Take the phone out and open the app."""
        self.page.goto(self.shell)
        expect(self.day.title).to_be_visible()

    def be_on_the_day_page(self) -> None:
        """Open the app, unless its day page is on the screen."""
        if not self.day.title.is_visible():
            self.open()

    @property
    def now(self) -> datetime:
        """What the phone's own clock says."""
        return datetime.fromtimestamp(self.page.evaluate("Date.now()") / 1000, UTC)

    @property
    def today(self) -> date:
        """The phone's day, which starts at three in the morning."""
        return (self.now - DAY_STARTS).date()

    def sleep_until(self, at: datetime) -> None:
        """Put the phone away; timers meanwhile fire at most once, as on a phone that slept."""
        self.context.clock.fast_forward(int((at - self.now) / timedelta(milliseconds=1)))
        self.open()

    def sleep_until_morning(self) -> None:
        """Put the phone away for the night."""
        self.sleep_until(datetime.combine(self.today + timedelta(days=1), MORNING, UTC))

    def sleep_until_evening(self) -> None:
        """Put the phone away for the day."""
        self.sleep_until(datetime.combine(self.today, EVENING, UTC))

    def sleep_until_the_servers_day(self) -> None:
        """Put the phone away until the evening of the day that the desk has, whose clock stays as it is."""
        self.sleep_until(datetime.combine(servers_day(), EVENING, UTC))

    def open_session(self) -> SessionScreen:
        """Go from the day page to the page before the start, with the ways to do it."""
        self.be_on_the_day_page()
        self.day.ways.tap()
        expect(SessionScreen(self.page).ready).to_be_visible()
        return SessionScreen(self.page)

    def check_sound(self) -> None:
        """Hear the sound once before the first session, and come back to the day page."""
        session = self.open_session()
        session.try_sound.tap()
        session.heard.tap()
        expect(session.heard).to_be_hidden()
        session.stop.tap()
        expect(self.day.start).to_be_visible()

    def begin_session(self) -> None:
        """Start today's session from the day page, without a report or a check of the sound where these are still open."""
        self.be_on_the_day_page()
        ways_on = self.day.start.or_(self.day.skip_report).or_(self.day.early).or_(self.day.start_early)
        expect(ways_on.filter(visible=True)).to_be_visible()
        if self.day.skip_report.is_visible():
            self.day.skip_report.tap()
        if self.day.early.is_visible():
            self.day.early.tap()
        self.day.start.or_(self.day.start_early).tap()
        session = SessionScreen(self.page)
        expect(session.running.or_(session.ready)).to_be_visible()
        if session.ready.is_visible():
            session.main.tap()
        expect(session.running).to_be_visible()

    def stand_still(self) -> None:
        """Stop the phone's clock, which from then on moves only as the story plays."""
        self.context.clock.pause_at(self.now + timedelta(seconds=1))

    def play(self, times: int, stride: int = SECOND) -> None:
        """Let the session run on by so many strides; after each the page gets its turn, and at the end its storage."""
        for _ in range(times):
            self.context.clock.fast_forward(stride)
        self.page.evaluate(SETTLED)

    def play_closely(self, seconds: int) -> None:
        """Let the session run on, its clock no faster than its storage; it stands still from then on."""
        self.stand_still()
        for _ in range(seconds):
            self.context.clock.fast_forward(SECOND)
            self.page.evaluate(SETTLED)

    def skip_to(self, kind: str, arm: str = "") -> None:
        """Skip to the start of the next step of a kind, of one arm if any is named, in the session that is on."""
        session, run = SessionScreen(self.page), self.page.evaluate(RUN)
        steps, now = run["plan"]["steps"], run["step"]
        to = next(at for at in range(now, len(steps)) if steps[at]["kind"] == kind and arm in ("", steps[at]["arm"]))
        for _ in range(to - now):
            session.skip.tap()
        expect(session.title).to_have_text(steps[to]["name"])

    def skip_to_the_end(self) -> None:
        """Skip all that is left of the session that is on."""
        run = self.page.evaluate(RUN)
        for _ in run["plan"]["steps"][run["step"] + 1 :]:
            SessionScreen(self.page).skip.tap()
        expect(AfterScreen(self.page).title).to_be_visible()

    def play_to_the_end(self) -> None:
        """Let the session run to its end."""
        for _ in range(LONGEST_SESSION // LOOK_EVERY):
            self.play(LOOK_EVERY // STRIDE, STRIDE * SECOND)
            if AfterScreen(self.page).title.is_visible():
                return
        raise AssertionError(f"the session was not over after {LONGEST_SESSION} s")

    def rate(self, worst: int | Mapping[str, int]) -> None:
        """Answer the question after the session, for the right arm or for each."""
        after = AfterScreen(self.page)
        for arm, rating in _by_arm(worst).items():
            after.worst(arm, rating).tap()
        after.save.tap()
        expect(self.day.title).to_be_visible()

    def do_session(self, worst: int | Mapping[str, int]) -> None:
        """Do today's session from its first step to its last, and rate it."""
        self.begin_session()
        self.play_to_the_end()
        self.rate(worst)

    def skip_session(self, worst: int | Mapping[str, int]) -> None:
        """Skip through today's session and rate it, for stories that need an entry and no work done."""
        self.begin_session()
        self.skip_to_the_end()
        self.rate(worst)

    def stop_for_sharp_pain(self) -> None:
        """Begin a session and stop it for sharp pain in the first set."""
        self.begin_session()
        self.play(SECONDS_TO_THE_FIRST_SET)
        SessionScreen(self.page).sharp.tap()
        SharpScreen(self.page).leave.tap()
        expect(self.day.title).to_be_visible()

    def report_morning(self, pain: int | Mapping[str, int], sharp: str = "no") -> None:
        """Answer the morning's questions: one number for the right arm, or one for each arm."""
        for arm, rating in _by_arm(pain).items():
            self.day.morning_pain(arm, rating).tap()
            self.day.morning_sharp(arm, sharp).tap()
        self.day.save_morning.tap()
        expect(self.day.reported).to_be_visible()

    def this_phone(self) -> PhoneScreen:
        """Go to what is kept and sent; the foot of that page itself has no link to it."""
        screen = PhoneScreen(self.page)
        if not screen.send.is_visible():
            screen.open()
        return screen

    def send(self) -> None:
        """Send what waits and fetch what is new, now, and come back to the day page."""
        screen = self.this_phone()
        with self.page.expect_response("**/api/sync"):
            screen.send.tap()
        expect(screen.waiting).to_have_text(ALL_SENT)
        self.day.way.tap()
        expect(self.day.title).to_be_visible()

    def send_in_vain(self) -> None:
        """Try to send, and see that there was no answer."""
        screen = self.this_phone()
        with self.page.expect_event("requestfailed"):
            screen.send.tap()
        expect(screen.phase).to_have_text(NO_ANSWER)

    def routine_title(self) -> Locator:
        """What this phone says of its routine."""
        return self.this_phone().routine

    def standing(self) -> dict[str, dict]:
        """Where each arm stands today by this phone's look-up."""
        return self.page.evaluate(STANDING)

    def log(self) -> dict:
        """Ids and kinds of all entries on this phone, and how many wait to be sent."""
        return self.page.evaluate(LOG)


def _by_arm(rating: int | Mapping[str, int]) -> Mapping[str, int]:
    return {"right": rating} if isinstance(rating, int) else rating

"""The practitioner's pages by what is on them: the only place that knows their selectors."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect


class SignInPage:
    """The desk's door."""

    def __init__(self, page: Page) -> None:
        self.email = page.get_by_label("E-mail address")
        self.password = page.get_by_label("Password")
        self.enter = page.locator("main").get_by_role("button", name="Sign in")


class CaseloadPage:
    """All clients of the practitioner."""

    def __init__(self, page: Page) -> None:
        self.title = page.get_by_role("heading", name="Caseload", level=1)
        self.add = page.locator("main").get_by_role("link", name="Add a client")
        self.lines = page.locator(".case-line")
        self._page = page

    def case(self, name: str) -> Locator:
        """The way to one client's page."""
        return self._page.locator(".case-line h3").get_by_role("link", name=name)

    def step(self, name: str) -> Locator:
        """The next step of one client."""
        return self._page.locator(".case-line").filter(has_text=name).locator("a.button")

    def of_group(self, name: str) -> Locator:
        """The names of the clients in a group: needs, look, way, new or finished."""
        return self._page.locator(f".group-{name} .case-line h3")


class IntakePage:
    """Adding a client."""

    def __init__(self, page: Page) -> None:
        self.name = page.get_by_label("Name", exact=True)
        self.mass = page.get_by_label("Body mass")
        self.height = page.get_by_label("Height")
        self.weights = page.get_by_label("Weights at home")
        self.usual = page.get_by_label("Usual morning pain")
        self.screened = page.get_by_label("I have asked about every sign")
        self.add = page.get_by_role("button", name="Add the client")
        self._page = page

    def choice(self, said: str) -> Locator:
        """One of the choices of the sheet, by its words."""
        return self._page.get_by_label(said, exact=True)


class RoutinePage:
    """Choosing or changing a routine, and seeing what it does before it is pushed."""

    def __init__(self, page: Page) -> None:
        self.title = page.get_by_label("Title")
        self.note = page.get_by_label("Note to the client")
        self.start_rung = page.get_by_label("Rung, right arm")
        self.most_reps = page.get_by_label("Most reps")
        self.rise_taken_on = page.get_by_label("I accept this rise")
        self.refused = page.locator("[data-live=again] [role=alert]")
        self.weights = page.get_by_label("Weights at home")
        self.movements = page.locator("summary").filter(has_text="Movements")
        self.first_movement = page.get_by_label("First movement")
        self.habit = page.get_by_label("Habit", exact=True)
        self.forecast = page.locator("[data-live=weeks]")
        self._form = page.locator("[data-routine-desk]")
        self.preview = page.get_by_role("button", name="See what it does")
        self.push = page.get_by_role("button", name=re.compile("Push version"))

    def look(self) -> None:
        """Ask what the entries do, and wait until the page shows it."""
        self.preview.click()
        self.settle()

    def settle(self) -> None:
        """Wait until the page shows what the entries do."""
        expect(self._form).not_to_have_attribute("aria-busy", "true", timeout=15_000)


class MovementPage:
    """Making a movement of the practice's own."""

    def __init__(self, page: Page) -> None:
        self.make = page.get_by_role("link", name="Make a movement")
        self.name = page.get_by_label("Name", exact=True)
        self.how = page.get_by_label("How it is done")
        self.start_cue = page.get_by_label("Before it begins")
        self.degrees_up = page.get_by_label("Degrees up")
        self.cautions_read = page.get_by_label("I have read these cautions")
        self.look = page.get_by_role("button", name="Look at it", exact=True)
        self.save = page.get_by_role("button", name="Save the movement")
        self._page = page

    def like(self, shipped: str) -> Locator:
        """The choice of the movement that the new one is like."""
        return self._page.get_by_role("link", name=shipped, exact=True)


class CasePage:
    """One client: where the arms stand, the days, the routine, the phones."""

    def __init__(self, page: Page) -> None:
        self.change_routine = page.get_by_role("link", name="Change the routine")
        self.course_form = page.locator("#finishing form")
        self.make_link = page.get_by_role("button", name="Make a link")
        self.make_code = page.get_by_role("button", name="Make a short code")
        self.confirm = page.get_by_role("button", name="Confirm this phone")
        self.revoke_asked = page.locator(".phones summary").first
        self.revoke = page.locator(".phones form button").first
        self.newest = page.locator(".versions li").first
        routine = page.locator("section[aria-labelledby=part-routine] > details > summary")
        self.received, self.waiting = routine.locator(".received"), routine.locator(".waiting")
        self.note_read = self.newest.locator(".note-read")
        self.versions = page.locator(".versions li")
        self.days_table = page.locator("section[aria-labelledby=part-days] table")
        self.days = self.days_table.locator("tbody tr")
        self.sessions = page.locator(".sessions > li")
        self.sharp_reports = page.locator(".sharp-reports li")
        self.refused = page.locator(".held [role=alert]")
        self.released = page.locator("section[aria-labelledby=part-released] li")
        self.letters = page.locator("section[aria-labelledby=part-letters] .letters > li")
        self.letter = page.get_by_label("Your letter")
        self.send_letter = page.get_by_role("button", name="Send the letter")
        hold = HoldPart(page.locator(".part.held"))
        self.release_choice, self.release_reason = hold.choice, hold.reason
        self.seen_by, self.seen_on = hold.seen_by, hold.seen_on
        self.release_talked, self.release = hold.talked, hold.release
        self.acts = page.locator("#acts")
        self._page = page

    def unfold(self, part: str) -> None:
        """Open a part that is folded up: routine, habit, phones, along, screened, intake or leaving."""
        self._page.locator(f"section[aria-labelledby=part-{part}] > details > summary").click()

    def act(self, named: str) -> ActPart:
        """One of the acts, by the words of its summary."""
        return ActPart(self.acts.locator("details", has=self._page.locator("summary", has_text=named)))

    def hold_of(self, arm: str) -> HoldPart:
        """The part of one held arm: "right" or "left"."""
        return HoldPart(self._page.locator(f"section[aria-labelledby=hold-{arm}]"))


class ActPart:
    """One act of a case, folded up until it is wanted."""

    def __init__(self, root: Locator) -> None:
        self.summary = root.locator("summary")
        self.until = root.get_by_label("Rest until")
        self.reason = root.get_by_label("Why: the client reads it")
        self.press = root.get_by_role("button")


class HoldPart:
    """One held arm of a case: where and why it starts again."""

    def __init__(self, root: Locator) -> None:
        self.choice = root.get_by_label("Where it starts again")
        self.reason = root.get_by_label("Why it may start again")
        self.seen_by = root.get_by_label("Who has seen the arm")
        self.seen_on = root.get_by_label("On which day")
        self.talked = root.get_by_label("I have talked with the client")
        self.release = root.get_by_role("button", name="Release the hold")


class InvitationPage:
    """A link or a short code, shown once."""

    def __init__(self, page: Page) -> None:
        self.link = page.get_by_label("Link", exact=True)
        self.code = page.locator(".code").first
        self.done = page.get_by_role("link", name="Done")


class GroupPage:
    """A group: its counts, its link, who has come."""

    def __init__(self, page: Page) -> None:
        self.look_again = page.get_by_role("link", name="Look again")
        self._page = page

    def open(self, group: str) -> None:
        """Open the page of a group."""
        self._page.goto(f"/practice/groups/{group}")

    def count(self, name: str) -> Locator:
        """How many have joined, answer, wait or were started."""
        return self._page.locator(f"[data-count={name}]")


class RehearsalPage:
    """A routine version played at the desk."""

    def __init__(self, page: Page) -> None:
        self.stage = page.locator("[data-rehearsal]")
        self.main = self.stage.locator("[data-act=main]")
        self.skip = self.stage.get_by_role("button", name="Skip")
        self.back = self.stage.get_by_role("button", name="Back")
        self.name = self.stage.locator("h2[data-slot=name]")
        self.numeral = self.stage.locator("[data-slot=numeral]")
        self.phase = self.stage.locator("[data-slot=phase]")
        self.time = self.stage.locator("[data-slot=time]")
        self.picture = self.stage.locator("[data-picture] svg")
        self.steps = self.stage.locator("[data-step]")
        self.now = self.stage.locator("[data-step][aria-current=step]")
        self.rung = page.get_by_label("Rung", exact=True)
        self.range = page.get_by_label("Range", exact=True)
        self.tones = self.stage.get_by_label("With tones")
        self.show = page.get_by_role("button", name="Show this session")

    def at_speed(self, times: int) -> Locator:
        """The choice of a speed, by its words."""
        return self.stage.get_by_label(f"{times}×", exact=True)

    def in_state(self, status: str) -> Locator:
        """The stage while it is ready, running, paused or ended."""
        return self.stage.and_(self.stage.page.locator(f"[data-status={status}]"))

"""Every selector that the stories use, screen by screen; a story speaks of what a person does, never of markup."""

import re

from playwright.sync_api import Locator, Page


def _answer(root: Locator, name: str, value: str | int) -> Locator:
    """One answer of one question; the radio itself lies under its label, unseen."""
    return root.locator(f"label:has(input[name='{name}'][value='{value}'])")


class DayScreen:
    """The client's home: one page a day."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("nav.ways a[href='#day']")
        self.title = page.locator("body[data-screen=day] #page header.date h1")
        self.session = page.locator("#page [data-part=session]")
        self.start = self.session.locator("[data-act=start]")
        self.ways = self.session.locator("[data-act=ways]")
        self.ways_told = self.session.locator("[data-slot=ways]")
        self.skip_report = self.session.locator("[data-act=skip]")
        self.reps = self.session.locator(".set-reps")
        self.loads = self.session.locator(".set-load")
        self.held_arms = self.session.locator("[data-held] .state")
        self.why = self.session.locator(".why")
        self.rest = self.session.get_by_text("Rest today", exact=True)
        self.stopped = self.session.get_by_text("Stopped", exact=True)
        self.done = self.session.get_by_text("Done for today", exact=True)
        self.enough = self.session.get_by_text("Enough for today", exact=True)
        self.morning = page.locator("#page [data-part=morning]")
        self.save_morning = self.morning.locator("[data-act=save]")
        self.told = self.morning.locator(".told")
        self.run = page.locator("#page [data-part=run]")
        self.go_on = self.run.locator("[data-act=go_on]")
        self.restart = self.run.locator("[data-act=restart]")
        self.changed = page.locator("#page [data-changed]")
        self.answer_now = self.run.locator("[data-act=finish]")
        self.sent = page.locator("#page [data-part=sent]")

    def morning_pain(self, arm: str, rating: int) -> Locator:
        """How an arm feels this morning, 0-10."""
        return _answer(self.morning, f"pain-{arm}", rating)

    def morning_sharp(self, arm: str, answer: str) -> Locator:
        """Whether anything in an arm was sharp: yes or no."""
        return _answer(self.morning, f"sharp-{arm}", answer)


class SessionScreen:
    """The timed session."""

    def __init__(self, page: Page) -> None:
        self.title = page.locator("#page .session-head h1")
        self.numeral = page.locator("#page .session-numeral")
        self.phase = page.locator("#page [data-slot=phase]")
        self.of = page.locator("#page .session-words [data-slot=of]")
        self.cue = page.locator("#page .session-cue")
        self.picture = page.locator("#page .session-picture svg")
        self.main = page.locator("#page [data-act=main]")
        self.ready = page.locator("#page .session[data-status=ready]")
        self.running = page.locator("#page .session[data-status=running]")
        self.paused = page.locator("#page .session[data-status=paused]")
        self.stop = page.locator("#page [data-act=stop]")
        self.sharp = page.locator("#page [data-act=sharp]")
        self.away = page.locator("#page [data-note=away]")
        self.soundless = page.locator("#page [data-note=sound]")
        self.controls = page.locator("#page .session-controls button")
        self.about = page.locator("#page [data-slot=about]")
        self.skip = page.locator("#page [data-act=skip]")
        self.back = page.locator("#page [data-act=back]")
        self.rep = page.locator("#page [data-act=rep]")
        self.ease_off = page.locator("#page [data-act=ease]")
        self.form_cues = page.locator("#page [data-cues] li")
        self.first_reps = page.locator("#page [data-note=first]")
        self.ways = page.locator("#page .session-ways summary")
        self.try_sound = page.locator("#page [data-act=sample]")
        self.voiceless = page.locator("#page [data-voiceless]")
        self.heard = page.locator("#page [data-act=heard]")
        self.unheard = page.locator("#page [data-act=unheard]")
        self.left_handed = page.locator("#page .session[data-hand=left]")
        self._why = page.locator("#page [data-part=why]")
        self._page = page

    def easing(self, what: str) -> Locator:
        """One thing to ease: form, range, load, reps, leave."""
        return self._page.locator(f"#page [data-ease={what}]")

    def way(self, name: str, value: str = "") -> Locator:
        """One choice among the ways to do it; its label is what a finger finds."""
        own = f"[name={name}]" + (f"[value={value}]" if value else "")
        return self._page.locator(f"#page [data-ways] label:has(input{own})")

    def time(self, name: str) -> Locator:
        """The slider of a time."""
        return self._page.locator(f"#page [data-ways] input[data-time={name}]")

    def why(self, reason: str) -> Locator:
        """A reason for stopping."""
        return self._why.locator(f"[data-why={reason}]")


class AfterScreen:
    """The question after a session."""

    def __init__(self, page: Page) -> None:
        self.title = page.locator("#page .after h1")
        self.line = page.locator("#page .after [data-line]")
        self.save = page.locator("#page .after button[type=submit]")
        self.fault = page.locator("#page .after [data-fault]")
        self.outlook = page.locator("#page [data-part=tomorrow] .branches li")
        self.list = page.locator("#page [data-list] li")
        self._form = page.locator("#page .after form")

    def worst(self, arm: str, rating: int) -> Locator:
        """The worst discomfort of one arm, 0-10."""
        return _answer(self._form, f"worst-{arm}", rating)


class SharpScreen:
    """The stop for sharp pain."""

    def __init__(self, page: Page) -> None:
        self.leave = page.locator("#page .after [data-act=leave]")
        self.saved = page.locator("#page .after-saved")
        self.caution = page.locator("#page .after [data-slot=caution]")
        self.save = page.locator("#page .after button[type=submit]")
        self.fault = page.locator("#page .after [data-fault]")
        self.sign = page.locator("#page .after [data-sign]")
        self._form = page.locator("#page .after form")

    def answer(self, question: str, answer: str) -> Locator:
        """One answer to where, like, sign, or which arm."""
        return _answer(self._form, question, answer)


class JoinPage:
    """Where an invitation link leads, before the app."""

    def __init__(self, page: Page) -> None:
        self.accept = page.locator("[data-join]")
        self.open_app = page.locator("[data-app]")
        self.code = page.locator("#code")


class CodeScreen:
    """Typing a short code, inside the app."""

    def __init__(self, page: Page) -> None:
        self.code = page.locator("#page input[name=code]")
        self.link = page.locator("#page button[type=submit]")


class WarningsScreen:
    """Reading the warning signs, and reporting one."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("nav.ways a[href='#warnings']")
        self.signs = page.locator("#page .sign")
        self.report = page.locator("#page button[type=submit]")
        self._arms = page.locator("#page [data-which]")
        self.told = page.locator("#page [data-told]")
        self.back = self.told.get_by_role("link", name="Back to today")

    def which_arm(self, arm: str) -> Locator:
        """The arm that a sign is about."""
        return self._arms.locator(f"label:has(input[value='{arm}'])")


class MorningScreen:
    """Putting a morning right."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("#page a[href='#morning']")
        self.save = page.locator("#page [data-body] [data-act=save]")
        self._body = page.locator("#page [data-body]")

    def pain(self, arm: str, rating: int) -> Locator:
        """How an arm felt, 0-10."""
        return _answer(self._body, f"pain-{arm}", rating)


class PhoneScreen:
    """What waits on this phone, and what it has."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("nav.ways a[href='#about']")
        self.send = page.locator("#page [data-act=send]")
        self.phase = page.locator("#page [data-slot=phase]")
        self.waiting = page.locator("#page [data-slot=waiting]")
        self.routine = page.locator("#page [data-slot=routine]")
        self.use_newer = page.locator("#page [data-act=use_newer]")


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
        self._page = page

    def case(self, name: str) -> Locator:
        """The way to one client's page."""
        return self._page.locator("main").get_by_role("link", name=name)


class IntakePage:
    """Adding a client."""

    def __init__(self, page: Page) -> None:
        self.name = page.get_by_label("Name", exact=True)
        self.mass = page.get_by_label("Body mass")
        self.height = page.get_by_label("Height")
        self.weights = page.get_by_label("Weights at home")
        self.usual = page.get_by_label("Usual morning pain")
        self.screened = page.get_by_label("Every one was asked")
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
        self.preview = page.get_by_role("button", name="See what it does")
        self.push = page.get_by_role("button", name=re.compile("Push version"))


class CasePage:
    """One client: where the arms stand, the days, the routine, the phones."""

    def __init__(self, page: Page) -> None:
        self.change_routine = page.get_by_role("link", name="Change the routine")
        self.make_link = page.get_by_role("button", name="Make a link")
        self.make_code = page.get_by_role("button", name="Make a short code")
        self.revoke_asked = page.locator(".phones summary").first
        self.revoke = page.locator(".phones form button").first
        self.newest = page.locator(".versions li").first
        self.received = self.newest.locator(".received")
        self.waiting = self.newest.locator(".waiting")
        self.versions = page.locator(".versions li")
        self.days = page.locator("table.days tbody tr")
        self.sessions = page.locator(".sessions > li")
        self.sharp_reports = page.locator(".sharp-reports li")
        self.refused = page.locator(".held [role=alert]")
        self.release_rung = page.get_by_label("Rung to start on")
        self.release_talked = page.get_by_label("I have talked with the client")
        self.release = page.get_by_role("button", name="Release the hold")


class InvitationPage:
    """A link or a short code, shown once."""

    def __init__(self, page: Page) -> None:
        self.link = page.get_by_label("Link", exact=True)
        self.code = page.locator(".code")
        self.done = page.get_by_role("link", name="Done")


class RehearsalPage:
    """A routine version played at the desk."""

    def __init__(self, page: Page) -> None:
        self.stage = page.locator("[data-rehearsal]")
        self.main = self.stage.locator("[data-act=main]")
        self.skip = self.stage.get_by_role("button", name="Skip")
        self.back = self.stage.get_by_role("button", name="Back")
        self.name = self.stage.locator("h2[data-slot=name]")
        self.numeral = self.stage.locator("[data-slot=numeral]")
        self.time = self.stage.locator("[data-slot=time]")
        self.picture = self.stage.locator("[data-picture] svg")
        self.steps = self.stage.locator("[data-step]")
        self.now = self.stage.locator("[data-step][aria-current=step]")
        self.rung = page.get_by_label("Rung", exact=True)
        self.range = page.get_by_label("Range", exact=True)
        self.show = page.get_by_role("button", name="Show this session")

    def at_speed(self, times: int) -> Locator:
        """The choice of a speed, by its words."""
        return self.stage.get_by_label(f"{times}×", exact=True)

    def in_state(self, status: str) -> Locator:
        """The stage while it is ready, running, paused or ended."""
        return self.stage.and_(self.stage.page.locator(f"[data-status={status}]"))

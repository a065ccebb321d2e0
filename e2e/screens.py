"""Every selector of the phone, screen by screen; a story speaks of what a person does, never of markup."""

from playwright.sync_api import Locator, Page


def _answer(root: Locator, name: str, value: str | int) -> Locator:
    """One answer of one question; the radio itself lies under its label, unseen."""
    return root.locator(f"label:has(input[name='{name}'][value='{value}'])")


class DayScreen:
    """The client's home: one page a day."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#day']")
        self.title = page.locator("body[data-screen=day] #page header.date h1")
        self.session = page.locator("#page [data-part=session]")
        self.start = self.session.locator("[data-act=start]")
        self.ways = self.session.locator("[data-act=ways]")
        self.ways_told = self.session.locator("[data-slot=ways]")
        self.skip_report = self.session.locator("[data-act=skip]")
        self.reps = self.session.locator(".set-reps")
        self.drawings = self.session.locator(".set-open")
        self.session_title = self.session.locator("h2")
        self.saved = self.session.locator("[data-slot=saved]")
        self.arms = self.session.locator("[data-doses] h3")
        self.length = self.session.locator("[data-aside]")
        self.loads = self.session.locator(".set-load")
        self.stop = page.locator("#page [data-part=stop]")
        self.held_arms = self.stop.locator(".state")
        self.why = self.session.locator(".why")
        self.rest = self.session.get_by_text("Rest today", exact=True)
        self.stopped = self.stop.get_by_text("Stopped", exact=True)
        self.done = self.session.get_by_text("Done for today", exact=True)
        self.in_part = self.session.locator("[data-in-part]")
        self.enough = self.session.get_by_text("Enough for today", exact=True)
        self.morning = page.locator("#page [data-part=morning]")
        self.save_morning = self.morning.locator("[data-act=save]")
        self.reported = self.morning.locator(".told")
        self.morning_title = self.morning.locator("h2")
        self.caution = page.locator("#page [data-part=slips] [data-slot=caution]")
        self.changed = page.locator("#page [data-left=changed]")
        self.taken = page.locator("#page [data-left=taken]")
        self.sent = page.locator("#page [data-part=sent]")
        self.release = page.locator("#page [data-part=release]")
        self.taken_back = page.locator("#page [data-left=taken_back]")
        self.note = page.locator("#page [data-part=note]")
        self.note_read = self.note.locator("[data-act=read]")
        self._find_run(page)
        self._find_home(page)
        self._find_earlier(page)

    def _find_run(self, page: Page) -> None:
        """The parts about what the first session waits for, and about a session that was left in the middle."""
        self.arriving = page.locator("#page [data-part=arriving]")
        self.begin_questions = self.arriving.locator("a[href='#screening']")
        self.run = page.locator("#page [data-part=run]")
        self.go_on = self.run.locator("[data-act=go_on]")
        self.restart = self.run.locator("[data-act=restart]")
        self.answer_now = self.run.locator("[data-act=finish]")

    def _find_home(self, page: Page) -> None:
        """What is said of the app on this phone: who is with the client, whether it is kept, its own icon."""
        self.about = page.locator("#page header.date [data-slot=about]")
        self.kept = page.locator("#page header.date [data-slot=kept]")
        self.kept_below = self.sent.locator("[data-slot=kept]")
        self.home = page.locator("#page [data-part=home]")
        self.put_home = self.home.locator("[data-act=put]")
        self.put_off = self.home.locator("[data-act=put_off]")

    def _find_earlier(self, page: Page) -> None:
        """The time between two sessions, days away, the mornings before today, and the page on which one of those is told."""
        self.early = self.session.locator("[data-act=early]")
        self.wait = self.session.locator("[data-act=wait]")
        self.start_early = self.session.locator("[data-act=start_early]")
        self.away = page.locator("#page [data-part=away]")
        self.finishing = page.locator("#page [data-part=finishing]")
        self.ended = self.finishing.locator("[data-who]")
        self.all_the_same = self.session.locator("[data-act=all_the_same]")
        self.mornings = page.locator("#page [data-part=mornings]")
        self._late = page.locator("body[data-screen=morning] #page")
        self.late_title = self._late.locator("h1")
        self.late_save = self._late.locator("[data-act=save]")

    def late_pain(self, arm: str, rating: int) -> Locator:
        """How an arm felt on an earlier morning, 0-10."""
        return _answer(self._late, f"pain-{arm}", rating)

    def late_sharp(self, arm: str, answer: str) -> Locator:
        """Whether anything in an arm was sharp on an earlier day: yes or no."""
        return _answer(self._late, f"sharp-{arm}", answer)

    def morning_pain(self, arm: str, rating: int) -> Locator:
        """How an arm feels this morning, 0-10."""
        return _answer(self.morning, f"pain-{arm}", rating)

    def morning_worst(self, arm: str, rating: int) -> Locator:
        """What yesterday's session was at its worst, 0-10, where that was left out."""
        return _answer(self.morning, f"worst-{arm}", rating)

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
        self.told_before = page.locator("#page [data-part=ready] > [data-slot=ready]")
        self.running = page.locator("#page .session[data-status=running]")
        self.paused = page.locator("#page .session[data-status=paused]")
        self.lead = page.locator("#page .session[data-status=lead]")
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
        self.eased_for = page.locator("#page [data-part=ease] [data-slot=rest]")
        self.form_cues = page.locator("#page [data-cues] li")
        self.easings = page.locator("#page [data-ease]:visible")
        self.first_reps = page.locator("#page [data-note=first]")
        self.ways = page.locator("#page .session-ways summary")
        self.movements = page.locator("#page .session-ways a[href^='#movement']")
        self.try_sound = page.locator("#page [data-act=sample]")
        self.voiceless = page.locator("#page [data-voiceless]")
        self.heard = page.locator("#page [data-act=heard]")
        self.unheard = page.locator("#page [data-act=unheard]")
        self.left_handed = page.locator("#page .session[data-hand=left]")
        self._why = page.locator("#page [data-part=why]")
        self._page = page

    def easing(self, lever: str) -> Locator:
        """One thing to ease: form, range, load, reps, leave."""
        return self._page.locator(f"#page [data-ease={lever}]")

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
        self.account = page.locator("#page .after [data-slot=account]")
        self.line = page.locator("#page .after [data-line]")
        self.save = page.locator("#page .after button[type=submit]")
        self.unrated = page.locator("#page .after [data-act=unrated]")
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
        self.title = page.locator("#page .after h1")
        self.saved = page.locator("#page .after-saved")
        self.again = page.locator("#page .after [data-act=again]")
        self.caution = page.locator("#page .after [data-slot=caution]")
        self.save = page.locator("#page .after button[type=submit]")
        self.fault = page.locator("#page .after form [data-fault]")
        self.mistake = page.locator("#page .after [data-act=mistake]")
        self.keep = page.locator("#page .after [data-act=sharp]")
        self.take_back = page.locator("#page .after [data-act=take_back]")
        self.sign = page.locator("#page .after [data-sign]")
        self.who = page.locator("#page [data-who]")
        self._form = page.locator("#page .after form")

    def answer(self, question: str, answer: str) -> Locator:
        """One answer to where, like, sign, or which arm."""
        return _answer(self._form, question, answer)


class JoinPage:
    """Where an invitation link leads, before the app."""

    def __init__(self, page: Page) -> None:
        self.accept = page.locator("[data-join]")
        self.practitioner = page.locator("[data-practitioner]")
        self.joined = page.locator("[data-part=joined]")
        self.another = page.locator("[data-part=another]")
        self.problem = page.locator("[data-problem]")
        self.code = page.locator("#code")
        self.send_code = page.locator("[data-code] button")


class HomeScreen:
    """Putting the app on the home screen."""

    def __init__(self, page: Page) -> None:
        self.title = page.locator("body[data-screen=home] #page h1")
        self.ways = page.locator("#page [data-way]:visible")
        self.put = page.locator("#page [data-act=put]")
        self.show_code = page.locator("#page [data-act=code]")
        self.code = page.locator("#page [data-slot=code]")
        self.until = page.locator("#page [data-slot=until]")
        self.copy = page.locator("#page [data-act=copy]")
        self.copied = page.locator("#page [data-slot=copied]")
        self.fault = page.locator("#page [data-fault]")


class CodeScreen:
    """Typing a short code, inside the app."""

    def __init__(self, page: Page) -> None:
        self.code = page.locator("#page input[name=code]")
        self.link = page.locator("#page button[type=submit]")
        self.fault = page.locator("#page [data-fault]")


class WarningsScreen:
    """Reading the warning signs, and reporting one."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#warnings']")
        self.signs = page.locator("#page .sign")
        self.acts = page.locator("#page .level h2")
        self.stop = page.locator("#page [data-act=stop]")
        self.report = page.locator("#page [data-plain] button")
        self._by_arm = page.locator("#page [data-by-arm]")
        self.reported = page.locator("#page [data-told]")
        self.act = self.reported.get_by_role("heading")
        self.back = self.reported.get_by_role("link", name="Back to today")

    def sign(self, id_: str) -> Locator:
        """One sign of the list."""
        return self.signs.filter(has=self.signs.page.locator(f"input[value='{id_}']"))

    def report_for(self, arm: str) -> Locator:
        """Report a sign of one arm: "right", "left" or "both"."""
        return self._by_arm.locator(f"button[value='{arm}']")


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
        self._settings = page.locator("body > nav a[href='#settings']")
        self._row = page.locator("#page .rows a[href='#about']")
        self.send = page.locator("#page [data-act=send]")
        self.phase = page.locator("#page [data-slot=phase]")
        self.waiting = page.locator("#page [data-slot=waiting]")
        self.routine = page.locator("#page [data-slot=routine]")
        self.note = page.locator("#page [data-note]")
        self.kept = page.locator("#page [data-slot=kept]")
        self.put_home = page.locator("#page [data-home]")
        self.use_newer = page.locator("#page [data-act=use_newer]")

    def open(self) -> None:
        """Go there through the settings."""
        self._settings.tap()
        self._row.tap()

"""Every selector of the pages about the past."""

from playwright.sync_api import Locator, Page


class ActivityPart:
    """The question about one of the client's own activities, on the day page."""

    def __init__(self, page: Page) -> None:
        self.whole = page.locator("#page [data-part=activity]")
        self.name = self.whole.locator("[data-slot=activity]")
        self.choice = self.whole.locator("select")
        self.fault = self.whole.locator("[data-fault]")
        self.save = self.whole.locator("[data-act=save_rating]")
        self.put_off = self.whole.locator("[data-act=put_off]")


class EarlierScreen:
    """An earlier day."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("#page a[href='#earlier']")
        self.title = page.locator("body[data-screen=earlier] #page h1")
        self.about = page.locator("#page [data-slot=about]")
        self.none = page.locator("#page [data-slot=none]")
        self.mornings = page.locator("#page [data-mornings]")
        self.sessions = page.locator("#page [data-sessions] > section")
        self.rows = page.locator("#page [data-sessions] tbody tr")
        self.classed = page.locator("#page [data-classed]")
        self.before = page.locator("#page [data-way=before]")
        self.after = page.locator("#page [data-way=after]")


class WeeksScreen:
    """The weeks so far."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#weeks']")
        self.whole = page.locator("#page[data-weeks=whole] h1")
        self.none = page.locator("#page [data-slot=none]")
        self.said = page.locator("#page [data-said] p")
        self.span = page.locator("#page [data-window] [data-slot=span]")
        self.first = page.locator("#page [data-act=first]")
        self.earlier = page.locator("#page [data-act=earlier]")
        self.later = page.locator("#page [data-act=later]")
        self.activity = page.locator("#page [data-plot=activity]")
        self.drawings = page.locator("#page [data-plot] svg")
        self.tables = page.locator("#page [data-plot] summary")
        self.worth = page.locator("#page [data-worth] li")
        self.ahead = page.locator("#page [data-ahead] li")
        self._page = page

    def columns(self, plot: str, arm: str, *classes: str) -> Locator:
        """The columns of a plot (mornings, work or stair) of one arm, of these classes."""
        of = ", ".join(f"[data-arm={arm}] [data-plot={plot}] .{name}" for name in classes)
        return self._page.locator(of)

    def cells(self, plot: str, arm: str, column: int) -> Locator:
        """One column of the table beside a plot, the latest day first; 0 is the day."""
        return self._page.locator(f"[data-arm={arm}] [data-plot={plot}] tbody tr > :nth-child({column + 1})")


class ClosingScreen:
    """The closing summary."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("#page [data-part=finishing] a[href='#closing']")
        self.whole = page.locator("#page[data-closing=whole] [data-kept]")
        self.arms = self.whole.locator("[data-arms] section")
        self.save = page.locator("#page [data-act=save_page]")
        self.print = page.locator("#page [data-act=print]")

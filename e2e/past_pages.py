"""Every selector of the pages about the past."""

from playwright.sync_api import Locator, Page


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

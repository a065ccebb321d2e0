"""Takes pictures of pages into a folder."""

import re
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page


@dataclass(frozen=True)
class Camera:
    """Where the pictures go, and which of them are wanted."""

    folder: Path
    only: str

    def take(self, page: Page, name: str, *, is_whole: bool = True) -> None:
        """Take the picture of a page, the part of it that is below the window too."""
        if re.search(self.only, name):
            page.screenshot(path=self.folder / f"{name}.png", full_page=is_whole)

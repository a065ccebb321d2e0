"""A person at a browser: opens pages, and sends the pages' forms with their entries."""

import re
from html import unescape
from html.parser import HTMLParser
from typing import Any

from flask.testing import FlaskClient
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

HEADERS = {"Sec-Fetch-Site": "same-origin"}
ANSWERED_WITH_A_PAGE = ("/diary/table",)
"""Where a form that was taken is answered with a page; all others redirect, so that going back shows a page."""


class _Forms(HTMLParser):
    """The forms of a page: for each action, the entries that a browser sends if the person types nothing."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[tuple[str, MultiDict]] = []
        self._select = self._area = ""

    def handle_starttag(self, tag: str, attrs: list) -> None:
        attributes = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append((attributes.get("action", ""), MultiDict()))
        elif tag == "select":
            self._select = attributes["name"]
        elif tag == "option" and "selected" in attributes:
            self._add(self._select, attributes["value"])
        elif tag == "textarea":
            self._area = attributes["name"]
            self._add(self._area, "")
        elif (
            tag == "input"
            and "name" in attributes
            and (attributes.get("type") not in {"checkbox", "radio"} or "checked" in attributes)
        ):
            self._add(attributes["name"], attributes.get("value", ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self._area = ""

    def handle_data(self, data: str) -> None:
        if self._area:
            self.forms[-1][1].setlist(self._area, [data])

    def _add(self, name: str, value: str) -> None:
        self.forms[-1][1].add(name, value)


class Visitor:
    """A browser with its own cookies; `page` is the last answer."""

    def __init__(self, client: FlaskClient) -> None:
        self.client = client
        self.page: TestResponse

    def open(self, path: str, *, follow: bool = False) -> TestResponse:
        self.page = self.client.get(path, follow_redirects=follow)
        return self.page

    def send(self, path: str, entries: Any, *, follow: bool = False, **headers: str) -> TestResponse:
        """Post a form with exactly these entries."""
        sent = {**HEADERS, **headers}
        self.page = self.client.post(path, data=MultiDict(entries), headers=sent, follow_redirects=follow)
        first = self.page.history[0] if self.page.history else self.page
        is_page = first.status_code == 200 and "by_script" not in entries and not path.endswith(ANSWERED_WITH_A_PAGE)
        assert not is_page, f"going back to {path} would ask to send the form again"
        return self.page

    def form(self, action: str = "") -> MultiDict:
        """Return the entries of the page's form whose action ends like this."""
        parser = _Forms()
        parser.feed(self.page.text)
        return next(entries for found, entries in parser.forms if (found.endswith(action) if action else not found))

    def fill(self, action: str, changes: dict[str, Any], *, post_to: str, follow: bool = True) -> TestResponse:
        """Change entries of the page's form and send it."""
        entries = self.form(action)
        for name, value in changes.items():
            entries.setlist(name, value if isinstance(value, list) else [value])
        return self.send(post_to, entries, follow=follow)

    def sign_in(self, email: str, password: str, onward: str = "/practice") -> TestResponse:
        self.open(f"/practice/sign-in?onward={onward}")
        entries = {**self.form().to_dict(), "email": email, "password": password}
        return self.send("/practice/sign-in", entries)

    @property
    def text(self) -> str:
        """The text of the page, without tags."""
        main = self.page.text.partition("<main")[2] or self.page.text
        return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", main)))

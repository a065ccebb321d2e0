"""The forms of rendered pages with all their fields, and the program's addresses and query names."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import quote_from_bytes

from flask import Flask
from werkzeug.routing import Rule

import webapp
from tests.hostile.texts import as_bytes

_ASKED = re.compile(r'request\.(?:args|values|form)(?:\.get\(|\.getlist\(|\[)\s*"(\w+)"')
_TICKED = {"checkbox", "radio"}


@dataclass(frozen=True)
class Form:
    """A form of a page.

    Attributes:
        action: The address that the form is sent to, "" for the page's own address.
        method: "get" or "post".
        names: The names of all fields and buttons.
        entries: The entries that a browser sends if the person types nothing.
        filled: The same entries, with a tick or a 1 in each empty field, so that checks after "this is needed" run too.
    """

    action: str
    method: str
    names: frozenset[str]
    entries: tuple[tuple[str, str], ...]
    filled: tuple[tuple[str, str], ...]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self.links: list[str] = []
        self._form_attributes: dict[str, str] | None = None
        self._names: set[str] = set()
        self._entries: list[tuple[str, str]] = []
        self._first: dict[str, str] = {}
        self._open = ""

    def handle_starttag(self, tag: str, attrs: list) -> None:
        attributes = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._form_attributes, self._names, self._entries, self._first = attributes, set(), [], {}
        if tag == "a" and "href" in attributes:
            self.links.append(attributes["href"])
        name = attributes.get("name", "")
        if self._form_attributes is not None and name and tag in {"input", "select", "textarea", "button"}:
            self._names.add(name)
            if attributes.get("type") != "hidden":
                self._first.setdefault(name, attributes.get("value") or "1")
            if tag == "input" and (attributes.get("type") not in _TICKED or "checked" in attributes):
                self._entries.append((name, attributes.get("value", "")))
            self._open = name if tag in {"select", "textarea"} else ""
        if tag == "option" and "selected" in attributes:
            self._entries.append((self._open, attributes["value"]))

    def handle_data(self, data: str) -> None:
        if self._open and self.lasttag == "textarea":
            self._entries.append((self._open, data))

    def handle_endtag(self, tag: str) -> None:
        if tag in {"select", "textarea"}:
            self._open = ""
        if tag == "form" and self._form_attributes is not None:
            attributes, self._form_attributes = self._form_attributes, None
            method = attributes.get("method", "get").lower()
            self.forms.append(
                Form(attributes.get("action", ""), method, frozenset(self._names), tuple(self._entries), self._filled())
            )

    def _filled(self) -> tuple[tuple[str, str], ...]:
        has = {name for name, value in self._entries if value}
        typed = [(name, value) for name, value in self._entries if value or name not in self._first]
        return (*typed, *((name, value) for name, value in self._first.items() if name not in has))


def forms_of(page: str) -> list[Form]:
    """Return every form of a page, in order."""
    reader = _Reader()
    reader.feed(page)
    return reader.forms


def links_of(page: str) -> list[str]:
    """Return the address of every link of a page, in order."""
    reader = _Reader()
    reader.feed(page)
    return reader.links


def names_asked_for() -> list[str]:
    """Return the names of all query and form fields that the program reads by name, except those of form classes."""
    sources = sorted(Path(webapp.__file__).parent.rglob("*.py"))
    return sorted({name for source in sources for name in _ASKED.findall(source.read_text(encoding="utf-8"))})


def rules_of(app: Flask, method: str) -> list[Rule]:
    """Return the URL rule of every address that accepts a method, in order."""
    return sorted(
        (rule for rule in app.url_map.iter_rules() if method in (rule.methods or ())), key=lambda rule: rule.rule
    )


def address(rule: Rule, values: Mapping[str, str]) -> str:
    """Return a rule's path with values in it, encoded as on the wire."""

    def fill(found: re.Match[str]) -> str:
        return quote_from_bytes(as_bytes(values[found.group(1)]), safe="")

    return re.sub(r"<(?:[^:<>]+:)?(\w+)>", fill, rule.rule)

"""The forms of rendered pages with every field in them, and the pages and queries that the program has."""

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
        action: Where it is sent, "" for the page's own address.
        method: "get" or "post".
        names: Of every field and button.
        entries: What a browser would send if nothing were typed.
        filled: The same with a tick or a 1 in whatever is empty, so that what stands behind the first refusal is met too.
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
        self._told: dict[str, str] | None = None
        self._names: set[str] = set()
        self._entries: list[tuple[str, str]] = []
        self._first: dict[str, str] = {}
        self._open = ""

    def handle_starttag(self, tag: str, attrs: list) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._told, self._names, self._entries, self._first = told, set(), [], {}
        if tag == "a" and "href" in told:
            self.links.append(told["href"])
        name = told.get("name", "")
        if self._told is not None and name and tag in {"input", "select", "textarea", "button"}:
            self._names.add(name)
            if told.get("type") != "hidden":
                self._first.setdefault(name, told.get("value") or "1")
            if tag == "input" and (told.get("type") not in _TICKED or "checked" in told):
                self._entries.append((name, told.get("value", "")))
            self._open = name if tag in {"select", "textarea"} else ""
        if tag == "option" and "selected" in told:
            self._entries.append((self._open, told["value"]))

    def handle_data(self, data: str) -> None:
        if self._open and self.lasttag == "textarea":
            self._entries.append((self._open, data))

    def handle_endtag(self, tag: str) -> None:
        if tag in {"select", "textarea"}:
            self._open = ""
        if tag == "form" and self._told is not None:
            told, self._told = self._told, None
            method = told.get("method", "get").lower()
            self.forms.append(
                Form(told.get("action", ""), method, frozenset(self._names), tuple(self._entries), self._filled())
            )

    def _filled(self) -> tuple[tuple[str, str], ...]:
        has = {name for name, value in self._entries if value}
        typed = [(name, value) for name, value in self._entries if value or name not in self._first]
        return (*typed, *((name, value) for name, value in self._first.items() if name not in has))


def forms_of(page: str) -> list[Form]:
    """Every form of a page, in order."""
    reader = _Reader()
    reader.feed(page)
    return reader.forms


def links_of(page: str) -> list[str]:
    """The address of every link of a page, in order."""
    reader = _Reader()
    reader.feed(page)
    return reader.links


def names_asked_for() -> list[str]:
    """Every query or form field that the program asks for by name, forms of their own apart."""
    sources = sorted(Path(webapp.__file__).parent.rglob("*.py"))
    return sorted({name for source in sources for name in _ASKED.findall(source.read_text(encoding="utf-8"))})


def rules_of(app: Flask, method: str) -> list[Rule]:
    """Every address that takes a method, in order."""
    return sorted(
        (rule for rule in app.url_map.iter_rules() if method in (rule.methods or ())), key=lambda rule: rule.rule
    )


def address(rule: Rule, values: Mapping[str, str]) -> str:
    """A rule's path with these values in it, as bytes on the wire."""

    def fill(found: re.Match[str]) -> str:
        return quote_from_bytes(as_bytes(values[found.group(1)]), safe="")

    return re.sub(r"<(?:[^:<>]+:)?(\w+)>", fill, rule.rule)

"""Templates hold every sentence, each one wrapped for translation, and neither script nor style of their own."""

import re
from html.parser import HTMLParser

import pytest
from jinja2 import Environment, nodes

from tests.rules.tree import file_name, files

INLINE_SCRIPT = re.compile(r"<script(?![^>]*\bsrc=)", re.IGNORECASE)
INLINE_STYLE = re.compile(r"<style\b|\sstyle\s*=", re.IGNORECASE)
LISTENER = re.compile(r"\son[a-z]+\s*=\s*[\"']|javascript:", re.IGNORECASE)
LETTERS = re.compile(r"[^\W\d_]{2,}")
READ_ALOUD = {"alt", "aria-label", "aria-description", "aria-roledescription", "placeholder", "title", "label"}
WRAPPED = "\N{WHITE SQUARE}"
OWN_NAME = re.compile(r"\bHalfturn\b")
ATTRIBUTE_OF_A_MACRO = re.compile(r"(?<=\s)(?!(?:alt|title|aria-label|placeholder)=)[a-z-]+=\"[^\"]*\"")


class _Reader(HTMLParser):
    """Collects the letters of a page that a person would see or hear."""

    def __init__(self) -> None:
        super().__init__()
        self.bare: list[tuple[int, str]] = []
        self._silent = 0

    def handle_starttag(self, tag, attrs):
        self._silent += tag in {"script", "style"}
        for name, value in attrs:
            if name in READ_ALOUD:
                self._look(value or "")

    def handle_endtag(self, tag):
        self._silent -= tag in {"script", "style"}

    def handle_data(self, data):
        if not self._silent:
            self._look(ATTRIBUTE_OF_A_MACRO.sub("", data))

    def _look(self, text):
        if LETTERS.search(OWN_NAME.sub("", text)):
            self.bare.append((self.getpos()[0], text.strip()))


def _templates() -> list:
    return files(".html", under="webapp/templates/")


def _flattened(source: str) -> str:
    """A template with every expression and wrapped message replaced by one sign, and every tag of the language gone."""
    blocks = re.compile(r"\{%-?\s*trans\b.*?endtrans\s*-?%\}|\{\{.*?\}\}|\{#.*?#\}|\{%.*?%\}", re.DOTALL)

    def sign(found: re.Match[str]) -> str:
        shown = found[0].startswith("{{") or re.match(r"\{%-?\s*trans\b", found[0])
        return (WRAPPED if shown else "") + "\n" * found[0].count("\n")

    return blocks.sub(sign, source)


def _bare(source: str) -> list[tuple[int, str]]:
    reader = _Reader()
    reader.feed(_flattened(source))
    reader.close()
    return reader.bare


def _lines(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{file_name(path)}:{source.count(chr(10), 0, found.start()) + 1}"
        for path in _templates()
        for source in [path.read_text(encoding="utf-8")]
        for found in pattern.finditer(source)
    ]


def test_the_walk_finds_a_bare_sentence_and_a_bare_label():
    assert _bare("<p>{{ _('Good') }} day</p>") == [(1, f"{WRAPPED} day")]
    assert _bare("<button aria-label='Stop'>{{ _('Stop') }}</button>") == [(1, "Stop")]
    assert not _bare("<p class='day'>{{ _('Good day') }} <b>3 × 8</b></p>")


def test_no_template_shows_letters_that_are_not_wrapped():
    bare = [
        f"{file_name(path)}:{line} {text!r}" for path in _templates() for line, text in _bare(path.read_text("utf-8"))
    ]
    assert not bare


@pytest.mark.parametrize("pattern", [INLINE_SCRIPT, INLINE_STYLE, LISTENER], ids=["script", "style", "listener"])
def test_no_template_has_code_or_style_inline(pattern):
    assert not _lines(pattern)


def test_no_template_switches_escaping_off():
    assert not _lines(re.compile(r"\|\s*safe\b|autoescape\s+false"))


def test_every_template_can_be_read():
    environment = Environment(autoescape=True, extensions=["jinja2.ext.i18n", "jinja2.ext.do"])
    for path in _templates():
        assert isinstance(environment.parse(path.read_text(encoding="utf-8"), filename=file_name(path)), nodes.Template)

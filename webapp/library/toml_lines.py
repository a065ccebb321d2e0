"""The line of each key of a TOML text. The TOML parser does not report lines.

The text must be valid TOML. Knows the grammar of TOML, and nothing of what keys mean.
"""

import re
from collections import Counter

_HEADER = re.compile(r"\s*(\[\[?)\s*([^\[\]]+?)\s*\]")
_KEY = re.compile(r"""\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=""")
_TOKEN = re.compile(
    r"#.*|\"\"\"|'''|\"(?:\\.|[^\"\\])*\"|'[^']*'|[\[{]|[\]}]",
)
_CLOSING = {'"""': re.compile(r'(?:\\.|[^\\])*?"""', re.DOTALL), "'''": re.compile(r".*?'''", re.DOTALL)}


def _plain(name: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in name.split("."))


class _Lines:
    """Reads a text line by line, and keeps the current table and the brackets and quotes that are still open."""

    def __init__(self) -> None:
        self.found: dict[str, int] = {}
        self._table = ""
        self._counts: Counter[str] = Counter()
        self._depth = 0
        self._quote = ""

    def take(self, number: int, line: str) -> None:
        """Read the next line: a table header, a key, or the continuation of an open value."""
        rest = line
        if not self._depth and not self._quote:
            header = _HEADER.match(line)
            if header:
                self._enter(number, header[1], _plain(header[2]))
                return
            key = _KEY.match(line)
            if key:
                self._note(number, _plain(key[1]))
                rest = line[key.end() :]
        self._skip(rest)

    def _enter(self, number: int, bracket: str, name: str) -> None:
        if bracket == "[[":
            self._counts[name] += 1
            self.found.setdefault(name, number)
            name = f"{name}[{self._counts[name]}]"
        self._table = f"{name}."
        self.found.setdefault(name, number)

    def _note(self, number: int, key: str) -> None:
        parts = f"{self._table}{key}".split(".")
        for end in range(1, len(parts) + 1):
            self.found.setdefault(".".join(parts[:end]), number)

    def _skip(self, text: str) -> None:
        while text:
            if self._quote:
                closed = _CLOSING[self._quote].match(text)
                if not closed:
                    return
                self._quote, text = "", text[closed.end() :]
            token = _TOKEN.search(text)
            if not token:
                return
            self._open_or_close(token[0])
            text = text[token.end() :]

    def _open_or_close(self, mark: str) -> None:
        if mark in _CLOSING:
            self._quote = mark
        elif mark in "[{":
            self._depth += 1
        elif mark in "]}":
            self._depth -= 1


def lines_of(text: str) -> dict[str, int]:
    """Return the line of each key path of a TOML text.

    Args:
        text: Valid TOML.

    Returns:
        For example {"tuning": 9, "tuning.low_reps": 10, "warm_ups[2].reps": 7}. Lines and the
        tables of an array are counted from 1.
    """
    walk = _Lines()
    for number, line in enumerate(text.splitlines(), start=1):
        walk.take(number, line)
    return walk.found

"""One file or mapping that is being read: keys are read by name, and faults are collected.

Knows the core's bounds and the lines of the text; nothing of what the keys mean.
"""

import re
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from webapp.dosing.faults import number_fault
from webapp.dosing.settings import BOUNDS, Bound
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.library.toml_lines import lines_of

REQUIRED = object()
NUMBER_CODES = frozenset({"not_a_number", "not_whole", "out_of_range"})
_TOML_LINE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")


class Page:
    """The file or mapping that is being read.

    Attributes:
        file: The name of the file, for a person, or "" for a mapping.
        lines: The line of each key path.
        faults: The faults found so far.
    """

    def __init__(self, file: str = "", lines: Mapping[str, int] | None = None) -> None:
        self.file = file
        self.lines = lines or {}
        self.faults: list[FileFault] = []

    def line_of(self, key: str) -> int | None:
        """Return the line of a key, or of the nearest table above it."""
        while key:
            if key in self.lines:
                return self.lines[key]
            key = key.rpartition(".")[0]
        return min(self.lines.values(), default=None)

    def fault(self, key: str, value: object, code: str, rule: tuple[object, ...] = ()) -> None:
        """Add one fault."""
        self.faults.append(FileFault(self.file, self.line_of(key), key, value, code, rule))

    def settle(self) -> None:
        """Refuse the page where it has faults.

        Raises:
            NotAcceptedError: With every fault.
        """
        if self.faults:
            raise NotAcceptedError(self.faults)


class Table:
    """A table of keys on a page. Reading a key checks it.

    A value read from a faulty key is never used, because `Page.settle` then refuses the page.
    """

    def __init__(self, page: Page, entries: object, path: str = "") -> None:
        self.page = page
        self.path = path
        self.entries: Mapping[str, Any] = entries if isinstance(entries, Mapping) else {}
        if not isinstance(entries, Mapping):
            self.page.fault(path, entries, "not_a_table")

    def at(self, key: str) -> str:
        """Return the full path of a key of this table."""
        return f"{self.path}.{key}" if self.path else key

    def fault(self, key: str, code: str, rule: tuple[object, ...] = (), value: object = None) -> None:
        """Add a fault of a key; its value is that of the key, unless `value` is another."""
        self.page.fault(self.at(key), self.entries.get(key) if value is None else value, code, rule)

    def only(self, *known: str) -> None:
        """Add a fault for every key that is not in `known`."""
        for key in self.entries:
            if key not in known:
                self.page.fault(self.at(key), None, "unknown_key", known)

    def _get(self, key: str, fallback: Any) -> tuple[bool, Any]:
        value = self.entries.get(key)
        if value is not None:
            return True, value
        if fallback is REQUIRED:
            self.page.fault(self.at(key), None, "missing_key")
        return False, fallback

    def number(self, key: str, fallback: Any = REQUIRED, bound: Bound | None = None) -> Any:
        """Read a number and check it against `bound`, or else against the core's bound for this key."""
        is_there, value = self._get(key, fallback)
        if not is_there:
            return value
        found = number_fault(key, value, bound)
        if found:
            self.fault(key, found.code, found.rule)
            return value
        return int(value) if (bound or BOUNDS[key]).whole else value

    def numbers(self, key: str, bound: Bound, fallback: Any = REQUIRED) -> tuple[Any, ...]:
        """Read a list of numbers and check each against the bound."""
        values = self._list(key, fallback)
        for value in values:
            found = number_fault(key, value, bound)
            if found:
                self.fault(key, found.code, found.rule, value)
        return tuple(value for value in values if isinstance(value, (int, float)))

    def text(self, key: str, fallback: Any = REQUIRED) -> str:
        """Read a text that is not empty."""
        is_there, value = self._get(key, fallback)
        if is_there and not (isinstance(value, str) and value.strip()):
            self.fault(key, "not_a_text")
        return value if isinstance(value, str) else ""

    def choice(self, key: str, allowed: Sequence[str], fallback: Any = REQUIRED) -> Any:
        """Read a text that must be one of `allowed`."""
        is_there, value = self._get(key, fallback)
        if is_there and value not in allowed:
            self.fault(key, "not_one_of", tuple(allowed))
        return value

    def truth(self, key: str, *, default: bool) -> bool:
        """Read true or false."""
        is_there, value = self._get(key, default)
        if is_there and not isinstance(value, bool):
            self.fault(key, "not_a_truth")
            return default
        return bool(value)

    def texts(self, key: str, fallback: Any = REQUIRED) -> tuple[str, ...]:
        """Read a list of texts."""
        values = self._list(key, fallback)
        for value in values:
            if not (isinstance(value, str) and value.strip()):
                self.fault(key, "not_a_text", value=value)
        return tuple(value for value in values if isinstance(value, str))

    def names(self, key: str, allowed: Sequence[str], code: str, fallback: Any = REQUIRED) -> tuple[str, ...]:
        """Read a list of names that must all be in `allowed`."""
        names = self.texts(key, fallback)
        for name in names:
            if name not in allowed:
                self.fault(key, code, tuple(allowed), name)
        return names

    def table(self, key: str) -> "Table":
        """Read a table; a missing table is empty."""
        return Table(self.page, self.entries.get(key, {}), self.at(key))

    def tables(self, key: str) -> list["Table"]:
        """Read a list of tables; a missing list is empty."""
        return [
            Table(self.page, entry, f"{self.at(key)}[{count}]")
            for count, entry in enumerate(self._list(key, ()), start=1)
        ]

    def _list(self, key: str, fallback: Any) -> tuple[Any, ...]:
        is_there, value = self._get(key, fallback)
        if not is_there:
            return () if value is REQUIRED else tuple(value)
        if not isinstance(value, (list, tuple)):
            self.fault(key, "not_a_list")
            return ()
        return tuple(value)


def read_text(path: Path) -> str:
    """Return the text of a file, without its byte order mark.

    Raises:
        NotAcceptedError: The file cannot be read, or is not UTF-8.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise NotAcceptedError([FileFault(str(path), None, "", None, "cannot_be_read")]) from error
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise NotAcceptedError([FileFault(str(path), line, "", None, "not_utf8")]) from error


def _toml_fault(path: Path, text: str, error: tomllib.TOMLDecodeError) -> FileFault:
    found = _TOML_LINE.search(str(error))
    line = int(found[1]) if found and found[1] else max(1, len(text.splitlines()))
    return FileFault(str(path), line, "", None, "not_toml", (_TOML_LINE.sub("", str(error)),))


def open_page(path: Path) -> tuple[Page, dict[str, Any]]:
    """Open a TOML file.

    Returns:
        The page, with the line of each key, and the parsed file.

    Raises:
        NotAcceptedError: The file cannot be read, or is not TOML.
    """
    text = read_text(path)
    try:
        entries = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise NotAcceptedError([_toml_fault(path, text, error)]) from error
    return Page(str(path), lines_of(text)), entries

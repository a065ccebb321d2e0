"""Every number that means something says where it comes from, and that place is in content/sources.toml."""

import importlib
import tomllib
from collections.abc import Iterator, Mapping
from types import ModuleType
from typing import Any

import pytest

from tests.rules.tree import ROOT, file_name, files

CITING = ("basis", "source")


def _sources() -> set[str]:
    return set(tomllib.loads((ROOT / "content/sources.toml").read_text(encoding="utf-8")))


def _cited(value: Any) -> Iterator[str]:
    """The keys in a content file, wherever a table or a list called `sources` stands."""
    if isinstance(value, Mapping):
        for key, entry in value.items():
            if key == "sources":
                yield from _keys(entry)
            else:
                yield from _cited(entry)
    elif isinstance(value, list):
        for entry in value:
            yield from _cited(entry)


def _keys(entry: Any) -> Iterator[str]:
    for part in entry.values() if isinstance(entry, Mapping) else [entry]:
        yield from part


def _dosing() -> list[ModuleType]:
    names = (file_name(path).removesuffix(".py").replace("/", ".") for path in files(".py", under="webapp/dosing/"))
    return [importlib.import_module(name) for name in names]


def _named(value: Any) -> Iterator[str]:
    """The keys that the tables of a module cite, however deep they lie."""
    for name in CITING:
        if isinstance(getattr(value, name, None), str):
            yield getattr(value, name)
    if isinstance(value, Mapping):
        for entry in value.values():
            yield from _named(entry)
    elif isinstance(value, (tuple, list)):
        for entry in value:
            yield from _named(entry)


def _content() -> list:
    return [path for path in files(".toml", under="content/") if path.name != "sources.toml"]


@pytest.mark.parametrize("path", _content(), ids=file_name)
def test_every_source_that_content_cites_is_listed(path):
    assert set(_cited(tomllib.loads(path.read_text(encoding="utf-8")))) <= _sources()


@pytest.mark.parametrize(
    "path", files(".toml", under="content/movements/") + files(".toml", under="content/routines/"), ids=file_name
)
def test_every_movement_and_every_routine_cites_something(path):
    assert set(_cited(tomllib.loads(path.read_text(encoding="utf-8"))))


def test_every_source_that_the_core_cites_is_listed():
    cited = {key for module in _dosing() for value in vars(module).values() for key in _named(value)}
    assert len(cited) > 5
    assert cited <= _sources()


def test_every_source_says_who_what_and_how_it_was_seen():
    listed = tomllib.loads((ROOT / "content/sources.toml").read_text(encoding="utf-8"))
    lacking = [key for key, entry in listed.items() if not {"cite", "gives", "mark"} <= set(entry)]
    assert not lacking

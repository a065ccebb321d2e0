"""Templates and addresses compiled once in a process, however many applications its tests build: their text decides their code."""

from collections.abc import Callable
from typing import ClassVar

from flask import Flask
from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from werkzeug.routing import Rule


class Templates(BytecodeCache):
    """Keeps the compiled code of templates in memory, by name, file and text."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take the code that an earlier application compiled from the same text."""
        if (kept := self._kept.get(bucket.key)) is not None:
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was compiled."""
        self._kept[bucket.key] = bucket.bytecode_to_string()


class Address(Rule):
    """A rule of an address whose builder is compiled once: half of the time that an application takes to start."""

    _kept: ClassVar[dict[object, Callable[..., tuple[str, str]]]] = {}

    def _compile_builder(self, append_unknown: bool = True) -> Callable[..., tuple[str, str]]:
        key = (append_unknown, *self._trace, *(self.defaults or {}).items())
        if key not in self._kept:
            self._kept[key] = super()._compile_builder(append_unknown)
        return self._kept[key]


def compile_once() -> None:
    """Let every application that this process builds from now on share what is compiled."""
    Flask.jinja_options = {"bytecode_cache": Templates()}
    Flask.url_rule_class = Address

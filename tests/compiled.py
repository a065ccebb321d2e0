"""Templates compiled once in a process, however many applications its tests build: a template's text decides its code."""

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket


class Compiled(BytecodeCache):
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


COMPILED = Compiled()

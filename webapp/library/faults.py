"""What is wrong with a file: line, key, value, code, and the operands of the rule.

The room `words` has the sentence for each code.
"""

from typing import NamedTuple


class FileFault(NamedTuple):
    """One thing wrong with one file or mapping.

    Attributes:
        file: The name of the file, or "" for a mapping.
        line: The line counted from 1, or None where there are no lines.
        key: The key, such as `tuning.low_reps` or `warm_ups[2].reps` (counted from 1).
        value: The value found, or None where it is missing.
        code: A stable word for the kind of fault.
        rule: The operands of the rule; the code says which.
    """

    file: str
    line: int | None
    key: str
    value: object
    code: str
    rule: tuple[object, ...] = ()


class NotAcceptedError(Exception):
    """A file or mapping has faults, so nothing of it was accepted.

    Attributes:
        faults: Every fault found, file by file, in the order of the lines.
    """

    def __init__(self, faults: list[FileFault]) -> None:
        files = list(dict.fromkeys(fault.file for fault in faults))
        self.faults = tuple(sorted(faults, key=lambda fault: (files.index(fault.file), fault.line or 0)))
        super().__init__("; ".join(f"{fault.file}:{fault.line} {fault.key} {fault.code}" for fault in self.faults))

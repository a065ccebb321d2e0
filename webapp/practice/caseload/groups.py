"""The groups of the caseload page: how many clients each has, and which of them are shown."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.practice.caseload.lines import CaseloadLine
from webapp.practice.caseload.wanted import Wanted
from webapp.sync.caseload.causes import GROUPS, ORDER

FEW = 30
"""As long as there are no more clients than this, every one is shown."""
FIRST = {"needs": 10, "look": 5, "way": 4, "new": 4, "finished": 4}
"""How many of each group are shown where there are more."""
MOST = 100
"""How many of a group that is asked for are shown at once, so that the answer never takes long."""


@dataclass(frozen=True)
class Group:
    """A group on the page.

    Attributes:
        name: One of `GROUPS`.
        lines: The lines that are shown.
        total: How many clients the group has, among those looked for.
        seen: How many of these are marked as seen.
    """

    name: str
    lines: Sequence[CaseloadLine]
    total: int
    seen: int


def groups_of(lines: Sequence[CaseloadLine], wanted: Wanted) -> list[Group]:
    """Return the groups that have clients, in their order; the first lines of each where there are many."""
    found = []
    for name in GROUPS:
        members = [line for line in lines if line.group == name]
        most = MOST if len(lines) <= FEW or wanted.group else FIRST[name]
        if members:
            found.append(Group(name, members[:most], len(members), sum(line.seen is not None for line in members)))
    return found


def causes_counted(lines: Sequence[CaseloadLine]) -> dict[str, int]:
    """Count the clients that have each cause, in the order of the table; causes that nobody has are left out."""
    counts = Counter(kind for line in lines for kind in {cause.kind for cause in line.causes})
    return {kind: counts[kind] for kind in ORDER if counts[kind]}

"""What a practitioner looks for in the caseload: a part of a name, and one value of each filter. All stands in the address."""

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass

from webapp.dosing.settings import ARMS
from webapp.practice.caseload.lines import Archived, CaseloadLine
from webapp.records.cases import Case
from webapp.sync.caseload.causes import GROUPS, ORDER

LONGEST_NAME_LOOKED_FOR = 80
ARCHIVE = "archived"
"""The group of those in the archive: shown only where it is asked for, or where a name is looked for."""
AREAS = ("outer_elbow", "inner_elbow", "wrist")
OFFERED: Mapping[str, Sequence[str]] = {
    "group": (*GROUPS, ARCHIVE),
    "cause": ORDER,
    "area": AREAS,
    "arm": ARMS,
    "seen": ("yes", "no"),
}


def folded(text: str) -> str:
    """Return a text without accents and capitals, so that a name is found however it is typed."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in parts if not unicodedata.combining(letter)).strip()


@dataclass(frozen=True)
class Wanted:
    """What is looked for; "" looks for everything.

    Attributes:
        name: A part of a name.
        group, cause, area, arm, seen: One value of `OFFERED`.
    """

    name: str = ""
    group: str = ""
    cause: str = ""
    area: str = ""
    arm: str = ""
    seen: str = ""

    @classmethod
    def read(cls, args: Mapping[str, str]) -> "Wanted":
        """Read what an address asks for; a value that is not offered asks for everything."""
        chosen = {name: args.get(name, "") for name in OFFERED}
        kept = {name: value for name, value in chosen.items() if value in OFFERED[name]}
        return cls(args.get("name", "")[:LONGEST_NAME_LOOKED_FOR], **kept)

    @property
    def is_any(self) -> bool:
        """Whether anything is looked for."""
        return self != Wanted()

    @property
    def query(self) -> dict[str, str]:
        """What stands in the address, by the name of its field."""
        return {name: value for name, value in asdict(self).items() if value}

    def fits(self, line: CaseloadLine) -> bool:
        """Say whether a line is looked for."""
        return self._fits_case(line.case) and all(
            (
                self.group in ("", line.group),
                not self.cause or any(cause.kind == self.cause for cause in line.causes),
                self.seen in ("", "yes" if line.seen else "no"),
            )
        )

    def fits_archived(self, away: Archived) -> bool:
        """Say whether somebody in the archive is looked for: by the group, or by a part of the name and nothing but the case's own."""
        is_asked = self.group == ARCHIVE or (self.name and not self.group)
        return bool(is_asked) and not self.cause and not self.seen and self._fits_case(away.case)

    def _fits_case(self, case: Case) -> bool:
        return all(
            (
                folded(self.name) in folded(case.name),
                self.area in ("", case.intake.get("area", "")),
                not self.arm or self.arm in case.intake.get("arms", ()),
            )
        )

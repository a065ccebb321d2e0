"""Who has come by a group's link: asked again and again by the page's script, so it reads no log of who has started."""

from typing import NamedTuple

from webapp.practice import desk
from webapp.records import cases, groups
from webapp.records.groups import GroupInvitation
from webapp.sync.case.screening import screening_of


class Arrivals(NamedTuple):
    """How many have joined; of those who are with the practitioner, how many still answer, wait for them, and were started."""

    joined: int
    answering: int
    waiting: int
    started: int


def arrivals_of(group: GroupInvitation) -> Arrivals:
    """Return who has come by the link of one of the practitioner's groups."""
    db, members = desk.records(), groups.members_of(desk.records(), group.id)
    here = [case for case in cases.of_practitioner(db, group.practitioner) if case.id in members]
    waits = [screening_of(db, case.id).waits_for for case in here if members[case.id] is None]
    answering = sum(each in {"screening", "intake"} for each in waits)
    waiting = waits.count("practitioner")
    return Arrivals(group.joined, answering, waiting, len(here) - answering - waiting)

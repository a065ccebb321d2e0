"""Why a client is shown where in the caseload: the causes, the most urgent first, and the group that follows from them.

Pure. Causes are the findings of the review, and what waits for the practice besides: a way back that stopped, a letter, a start, a phone,
a version.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from webapp.dosing.review import FINDINGS, URGENT
from webapp.sync.case.to_ask import SHOWN_FOR
from webapp.sync.caseload.glance import Spotted
from webapp.sync.caseload.shown import Shown
from webapp.sync.caseload.stopped_way import StoppedWay
from webapp.sync.folding.fold import ONE_DAY
from webapp.words.causes import ARCHIVED, LETTER, NOT_ARRIVED, PHONE, START, TO_ASK, WAY_STOPPED

WAITING = (WAY_STOPPED, LETTER, START, TO_ASK, PHONE, ARCHIVED)
NOT_ARRIVED_DAYS = 2
"""So many days after a push a phone that is in use should have the version. Own choice."""

_FOUND = tuple(watch.id for watch in FINDINGS)
_SILENT = _FOUND.index("silent")
ORDER = (*_FOUND[:_SILENT], *WAITING, "silent", NOT_ARRIVED, *_FOUND[_SILENT + 1 :])
"""Every kind of cause in the order of the review's table; what waits for the practice comes after pain and before silence."""
NEEDS = URGENT | {*WAITING, NOT_ARRIVED}
AFTER_THE_END = frozenset({"sharp", "held-after-rest", LETTER, TO_ASK, PHONE, ARCHIVED})
"""What still counts of a client who has finished."""
GROUPS = ("needs", "look", "way", "new", "finished")
# Of these causes another one of the same kind is news: a new flare, a new stop. The others only go on.
_BY_LAST = {"flared-twice"}
_BY_FIRST = {"sharp", "held-after-rest", "silent", "no-session", WAY_STOPPED, LETTER, TO_ASK, NOT_ARRIVED, ARCHIVED}


@dataclass(frozen=True)
class Cause:
    """One reason to look at a client.

    Attributes:
        kind: One of `ORDER`.
        arm: The arm, or "" where it is about the client.
        since: The first day that shows it, or None where that says nothing.
        spotted: The finding, or None for what waits for the practice.
        stopped: The way back that stopped, where that is the cause.
    """

    kind: str
    arm: str = ""
    since: date | None = None
    spotted: Spotted | None = None
    stopped: StoppedWay | None = None

    @property
    def is_urgent(self) -> bool:
        """Whether the practitioner must do something soon."""
        return self.kind in NEEDS

    @property
    def rank(self) -> tuple[bool, int]:
        """The sort key: the urgent first, then the order of the table."""
        return not self.is_urgent, ORDER.index(self.kind)

    @property
    def stamp(self) -> str:
        """A text that differs where a cause of the same kind is a new one."""
        is_by_last = self.spotted is not None and self.kind in _BY_LAST
        day = self.spotted.last if self.spotted and is_by_last else self.since if self.kind in _BY_FIRST else None
        return f"{self.kind} {self.arm} {day or ''}"


@dataclass(frozen=True)
class PhonesAsked:
    """What the causes need to know of a client's phones: how many are joined, how many wait, and since when a version is on its way."""

    joined: int
    to_confirm: int
    pushed_on: date | None


def causes_of(shown: Shown, phones: PhonesAsked, heard_again_on: date | None = None) -> tuple[Cause, ...]:
    """Return the causes of a client on the client's own day, the most urgent first.

    Args:
        shown: What the caseload shows of the client.
        phones: What is known of the phones.
        heard_again_on: For a case in the archive, the day on which something came in after that; else None.
    """
    found = [*_spotted(shown.glance.spotted), *_waiting(shown, phones)]
    if heard_again_on is not None:
        found.append(Cause(ARCHIVED, since=heard_again_on))
    if shown.course.to == "ended":
        found = [cause for cause in found if cause.kind in AFTER_THE_END]
    return tuple(sorted(found, key=lambda cause: cause.rank))


def _spotted(spotted: Sequence[Spotted]) -> Iterator[Cause]:
    for each in spotted:
        yield Cause(each.id, each.arm, each.since, each)


def _waiting(shown: Shown, phones: PhonesAsked) -> Iterator[Cause]:
    if stopped := shown.glance.stopped:
        yield Cause(WAY_STOPPED, since=stopped.since, stopped=stopped)
    if shown.unread_letters:
        yield Cause(LETTER, since=shown.whole.written_on)
    if shown.start_waits:
        yield Cause(START, since=shown.whole.screened_on)
    if shown.asked_until is not None:
        yield Cause(TO_ASK, since=shown.asked_until - SHOWN_FOR)
    if phones.to_confirm:
        yield Cause(PHONE)
    if phones.joined and phones.pushed_on and phones.pushed_on <= shown.today - NOT_ARRIVED_DAYS * ONE_DAY:
        yield Cause(NOT_ARRIVED, since=phones.pushed_on)


def is_new(shown: Shown) -> bool:
    """Say whether a client has not begun: no arm has a routine yet, or the safety questions or the intake are still to come."""
    return not shown.glance.arms or shown.whole.waits_for in ("screening", "intake")


def group_of(shown: Shown, causes: Sequence[Cause]) -> str:
    """Return the group, one of `GROUPS`, in which a client stands."""
    if any(cause.is_urgent for cause in causes):
        return "needs"
    if shown.course.to == "ended":
        return "finished"
    if is_new(shown):
        return "new"
    return "look" if causes else "way"


def is_news(causes: Sequence[Cause], seen: Collection[str]) -> bool:
    """Say whether something has come that was not there when the client was marked as seen, and is no milder than all that was.

    Args:
        causes: The causes now.
        seen: The stamps of the causes that were there then.
    """
    before = [ORDER.index(stamp.partition(" ")[0]) for stamp in seen if stamp.partition(" ")[0] in ORDER]
    ranks = [(ORDER[number] not in NEEDS, number) for number in before]
    worst = min(ranks, default=(True, len(ORDER)))
    return any(cause.stamp not in seen and cause.rank <= worst for cause in causes)

"""The next step of a line: what to do about its first cause, and where on the case page that is done."""

from typing import NamedTuple

from flask import url_for

from webapp.practice.caseload.lines import CaseloadLine
from webapp.sync.caseload.causes import Cause
from webapp.words.causes import ARCHIVED, LETTER, NOT_ARRIVED, PHONE, START, TO_ASK, WAY_STOPPED


class NextStep(NamedTuple):
    """A step: the key of its word, and the address."""

    word: str
    address: str


OPEN = ("open", "part-review")
PLOTTED = ("open", "plots")
RELEASE, WRITE, CHANGE = ("release", "hold-{arm}"), ("write", "letters"), ("change", "")
PLACES = {
    "sharp": RELEASE,
    "held-after-rest": RELEASE,
    LETTER: ("answer", "letters"),
    START: ("start", "part-screening"),
    TO_ASK: WRITE,
    PHONE: ("confirm", "part-phones"),
    ARCHIVED: ("open", "archived"),
    NOT_ARRIVED: ("phones", "part-phones"),
    **dict.fromkeys(
        ("silent", "no-session", "mornings-missing", "same-answers", "away", "not-rated", "done-in-part"), WRITE
    ),
    **dict.fromkeys(("flared-twice", "rest-long", "week-worse", "sore-long"), PLOTTED),
    "goal-settled": ("finish", "finishing"),
    **dict.fromkeys(("jump", "jump-ahead", "by-hand", "peak"), CHANGE),
}
"""For each kind of cause the word of its step and the place on the case page; others are opened at the findings."""


def step_of(line: CaseloadLine) -> NextStep:
    """Return the next step of a client."""
    if line.causes:
        return _about(line, line.causes[0])
    if line.group != "new":
        return _on_case(line, "open", "")
    if not line.version and not line.case.asks_intake:
        return NextStep("choose", _routine(line))
    return _on_case(line, "open" if line.contact.phones else "invite", "part-phones")


def _about(line: CaseloadLine, cause: Cause) -> NextStep:
    if cause.kind == START and line.case.asks_intake:
        return NextStep("intake", url_for("practice.case.confirm", public_id=line.case.public_id))
    if cause.spotted and cause.spotted.has_offer:
        return _on_case(line, "offer", f"offer-{cause.arm}")
    if cause.kind == WAY_STOPPED:
        return NextStep("way", url_for("practice.returning.show_way", public_id=line.case.public_id))
    word, anchor = PLACES.get(cause.kind, OPEN)
    return _on_case(line, word, anchor.format(arm=cause.arm)) if anchor else NextStep(word, _routine(line))


def _on_case(line: CaseloadLine, word: str, anchor: str) -> NextStep:
    return NextStep(word, url_for("practice.case.show", public_id=line.case.public_id, _anchor=anchor or None))


def _routine(line: CaseloadLine) -> str:
    return url_for("practice.routine.edit", public_id=line.case.public_id)

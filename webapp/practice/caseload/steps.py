"""The next step of a line: what to do about its first cause, and where on the case page that is done."""

from typing import NamedTuple

from flask import url_for

from webapp.practice.caseload.lines import CaseloadLine
from webapp.sync.causes import Cause
from webapp.words.causes import LETTER, NOT_ARRIVED, PHONE, START, TO_ASK


class Step(NamedTuple):
    """A step: the key of its word, and the address."""

    word: str
    address: str


OPEN = ("open", "part-review")
RELEASE, WRITE, CHANGE = ("release", "hold-{arm}"), ("write", "letters"), ("change", "")
PLACES = {
    "sharp": RELEASE,
    "held-after-rest": RELEASE,
    LETTER: ("answer", "letters"),
    START: ("start", "part-screening"),
    TO_ASK: WRITE,
    PHONE: ("confirm", "part-phones"),
    NOT_ARRIVED: ("phones", "part-phones"),
    **dict.fromkeys(
        ("silent", "no-session", "mornings-missing", "same-answers", "away", "not-rated", "done-in-part"), WRITE
    ),
    "goal-settled": ("finish", "finishing"),
    **dict.fromkeys(("jump", "jump-ahead", "by-hand", "peak"), CHANGE),
}
"""For each kind of cause the word of its step and the place on the case page; others are opened at the findings."""


def step_of(line: CaseloadLine) -> Step:
    """Return the next step of a client."""
    if line.causes:
        return _about(line, line.causes[0])
    if line.group != "new":
        return _on_case(line, "open", "")
    if not line.version and not line.case.asks_intake:
        return Step("choose", _routine(line))
    return _on_case(line, "open" if line.contact.phones else "invite", "part-phones")


def _about(line: CaseloadLine, cause: Cause) -> Step:
    if cause.kind == START and line.case.asks_intake:
        return Step("intake", url_for("practice.case.confirm", public_id=line.case.public_id))
    if cause.spotted and cause.spotted.has_offer:
        return _on_case(line, "offer", f"offer-{cause.arm}")
    word, place = PLACES.get(cause.kind, OPEN)
    return _on_case(line, word, place.format(arm=cause.arm)) if place else Step(word, _routine(line))


def _on_case(line: CaseloadLine, word: str, anchor: str) -> Step:
    return Step(word, url_for("practice.case.show", public_id=line.case.public_id, _anchor=anchor or None))


def _routine(line: CaseloadLine) -> str:
    return url_for("practice.routine.edit", public_id=line.case.public_id)

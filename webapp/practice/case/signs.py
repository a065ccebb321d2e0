"""The warning signs that a client raised, and the stops that a client corrected away, on the case page."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from webapp.events import kinds
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.records import events
from webapp.records.cases import Case
from webapp.sync.log.diary import entries_of, of_phones
from webapp.sync.log.facts import stops_corrected
from webapp.words.findings import UNNAMED_EMERGENCY, UNNAMED_SIGN

SIGNS_SHOWN = 5
ALL = -1


@dataclass(frozen=True)
class SignShown:
    """A warning sign: the day as text, what it says, its level (None if unknown), the arms that it stopped."""

    on: str
    text: str
    level: str | None
    held: tuple[str, ...]


def about_signs(case: Case) -> dict[str, Any]:
    """Return what the page needs of warning signs.

    Returns:
        signs: The last ones that the client raised, the newest day first.
        signs_taken_back: Those of the last ones that the client ticked by mistake and took back.
        sign_texts: The text of every sign by its id.
        stops_corrected: The last answers that stopped an arm until the client corrected them, each with the arm.
    """
    logged = events.latest_of(desk.records(), case.id, ("warning_raised", "entry_corrected"), ALL)
    entries = entries_of(logged)
    texts = _texts()
    raised = [entry for entry in entries if entry.kind == "warning_raised"]
    valid = {entry.id: entry for entry in corrected_entries(of_phones(entries))}
    last = raised[:SIGNS_SHOWN]
    return {
        "signs": _shown((valid[entry.id] for entry in last if entry.id in valid), texts),
        "signs_taken_back": _shown((entry for entry in last if entry.id not in valid), texts),
        "sign_texts": texts,
        "stops_corrected": _stops_corrected(case),
    }


def _stops_corrected(case: Case) -> list[tuple[Event, str]]:
    kinds_read = {"morning_reported", "session_finished", "entry_corrected"}
    logged = [each for each in events.corrected(desk.records(), case.id) if each.kind in kinds_read]
    return stops_corrected(of_phones(entries_of(logged)))[:SIGNS_SHOWN]


def _texts() -> dict[str, str]:
    unnamed = {kinds.UNNAMED_SIGN: UNNAMED_SIGN, kinds.UNNAMED_EMERGENCY: UNNAMED_EMERGENCY}
    texts = {sign.id: sign.text for sign in the_shelf().warnings} | unnamed
    return {id_: desk.words().say(text) for id_, text in texts.items()}


def _shown(entries: Iterable[Event], texts: dict[str, str]) -> list[SignShown]:
    return [_sign(entry, texts) for entry in entries]


def _sign(entry: Event, texts: dict[str, str]) -> SignShown:
    sign = entry.body["sign"]
    level = "emergency" if sign == kinds.UNNAMED_EMERGENCY else the_shelf().level_of(sign)
    held = tuple(entry.body["arms"]) if entry.body.get("holds", True) else ()
    return SignShown(entry.on.isoformat(), texts.get(sign, sign), level, held)

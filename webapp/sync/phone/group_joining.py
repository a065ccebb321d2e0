"""Joining by the link of a group: each newcomer becomes a client of the practitioner, named by the group and a number.

Who ticks no sign and tells a usual morning of 0 to 3 is started at the bottom, as the practitioner confirmed for the group.
Knows no HTTP.
"""

import secrets
from datetime import date, datetime
from typing import Any

from webapp.dosing.settings import ARMS
from webapp.events.daybook import said_before
from webapp.events.kinds import Event
from webapp.library.faults import NotAcceptedError
from webapp.records import cases, devices, events, groups, practitioners, routines
from webapp.records.database import Database, write
from webapp.records.groups import GROUPS_BEGIN, GroupInvitation
from webapp.sync.bundle.bundle import prescribed
from webapp.sync.case.screening import ALL, Screening, screening_of
from webapp.sync.case.told_intake import AREA_OF, TOLD_LATER
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of
from webapp.sync.phone import joining
from webapp.sync.phone.joining import Joined, LinkOffer, NotAdmittedError, PhoneTold
from webapp.sync.phone.practitioner import shown_of

HIGHEST_USUAL = 3
"""Up to this usual morning a newcomer of a group is started; above it the practitioner looks first (own choice)."""
PUBLIC_ID_BYTES = 10
LONGEST_KEY = 100
LONGEST_FIRST_NAME = 30


def is_of_group(token: str) -> bool:
    """Whether a link's token is that of a group."""
    return token.startswith(GROUPS_BEGIN)


def read_link(db: Database, token: str, now: datetime, already: Joined | None = None) -> LinkOffer:
    """Return what any link offers, of a group or for one person; otherwise as `joining.read_link`."""
    if not is_of_group(token):
        return joining.read_link(db, token, now, already)
    group = _group_of(db, token)
    is_joined = _joined_by(db, group, already) is not None
    if not is_joined and not group.is_open(now):
        raise NotAdmittedError("over")
    return LinkOffer(shown_of(db, group.practitioner), [], is_joined)


def join_by_link(
    db: Database, token: str, phone: PhoneTold, now: datetime, already: Joined | None = None, key: str = ""
) -> Joined:
    """Join by any link, of a group or for one person.

    Args:
        db: The records.
        token: The link's token.
        phone: What the phone says of itself.
        now: The instant of the call, with a zone.
        already: The phone that sends the request, if it has joined a client. It stays what it is.
        key: What the phone made up for this try. If the answer is lost and it tries again, it takes no second place.

    Raises:
        NotAdmittedError: The link is unknown, used or over, the group is full, or the phone has joined another client.
    """
    if not is_of_group(token):
        return joining.join_by_link(db, token, phone, now, already)
    group = _group_of(db, token)
    joined = _joined_by(db, group, already)
    if joined is not None:
        return joined
    with write(db):
        client = groups.member_by_key(db, group.id, key[:LONGEST_KEY])
        if client is None:
            client = _newcomer(db, group, phone.first_name, key[:LONGEST_KEY], now)
        device, device_token = devices.join(db, client, phone.name, now, phone.agreed)
    return Joined(client, device, device_token)


def _group_of(db: Database, token: str) -> GroupInvitation:
    group = groups.by_token(db, token) if len(token) < joining.LONGEST_TOKEN else None
    if group is None:
        raise NotAdmittedError("unknown_link")
    return group


def _joined_by(db: Database, group: GroupInvitation, already: Joined | None) -> Joined | None:
    if already is not None and not groups.is_member(db, group.id, already.client):
        raise NotAdmittedError("joined_to_another")
    return already


def _newcomer(db: Database, group: GroupInvitation, first_name: str, key: str, now: datetime) -> int:
    number = groups.take_place(db, group.id, now)
    if number is None:
        raise NotAdmittedError("over")
    public_id, label = secrets.token_hex(PUBLIC_ID_BYTES), f"{group.name}, {number}"
    written = "".join(sign for sign in first_name if sign.isprintable())[:LONGEST_FIRST_NAME].strip()
    name = f"{written} ({label})" if written else label
    client = cases.put(db, group.practitioner, public_id, name, group.locale, TOLD_LATER, now).id
    groups.add_member(db, group.id, client, key, now)
    return client


def start_if_clear(db: Database, client: int, on: date, now: datetime) -> bool:
    """Start a newcomer of a group, inside a write, if nothing speaks against it; return whether that was done.

    Args:
        db: The records.
        client: The client's key.
        on: The client's local day.
        now: The instant of the call, with a zone.
    """
    group = groups.of_client(db, client)
    screening = screening_of(db, client) if group else None
    if group is None or screening is None or not _is_clear(db, client, group, screening):
        return False
    assert screening.own_intake is not None, "a clear newcomer has told the intake"
    settings = _settings(screening.own_intake)
    try:
        prescribed(group.routine, settings, routines.next_version(db, client), "")
    except NotAcceptedError:
        return False
    practitioner = practitioners.find(db, group.practitioner)
    cases.complete(db, client, {**settings, "area": group.routine["area"], "note": ""})
    practice_events.put(db, client, "intake_confirmed", on, {"by": practitioner.name}, now)
    routines.put(db, client, group.routine, settings, "", practitioner.id, now)
    groups.note_started(db, client, now)
    return True


def _is_clear(db: Database, client: int, group: GroupInvitation, screening: Screening) -> bool:
    intake = screening.own_intake
    if intake is None or not screening.asks_intake or not _has_no_sign(screening):
        return False
    if events.is_any_of(db, client, "warning_raised"):
        return False
    areas = {AREA_OF.get(spot) for spot in intake.body["places"]}
    measured = all(intake.body.get(name) is not None for name in ("mass_kg", "height_m"))
    return measured and _highest_usual(db, client) <= HIGHEST_USUAL and areas == {group.routine["area"]}


def _has_no_sign(screening: Screening) -> bool:
    """Whether the whole list of today was asked, and no sign of it was ever ticked."""
    return screening.is_whole and screening.is_of_this_list and not screening.signs and not screening.taken_back


def _highest_usual(db: Database, client: int) -> int:
    """Return the highest usual morning that the client ever told: who lowers it meanwhile is looked at first."""
    logged = entries_of(events.latest_of(db, client, ("intake_told", "entry_corrected"), ALL))
    return max(int(event.body["usual"]) for event in (*logged, *said_before(logged)) if event.kind == "intake_told")


def _settings(intake: Event) -> dict[str, Any]:
    """Return the settings of a first version from what the client told: each arm begins on rung 1."""
    kilograms = sorted({0.0, *map(float, intake.body["weights_kg"])})
    arms = [arm for arm in ARMS if arm in intake.body["arms"]]
    return {
        "mass_kg": intake.body["mass_kg"],
        "height_m": intake.body["height_m"],
        "sex": None,
        "arms": arms,
        "weights": [{"value": weight, "unit": "kg"} for weight in kilograms],
        "weights_kg": kilograms,
        "usual": intake.body["usual"],
        "clinician_seen": False,
        "start_rungs": dict.fromkeys(arms, 1),
    }

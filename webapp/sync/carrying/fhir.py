"""One client as an HL7 FHIR R4B Bundle: Patient, CarePlan, QuestionnaireResponse, Observation.

Pain is coded as LOINC 72514-3, 'Pain severity - 0-10 verbal numeric rating [Score] - Reported', as the pain scale of HL7
Belgium's patient monitoring guide names it (build.fhir.org/ig/hl7-be/patient-monitoring/ValueSet-pain-scale.html). What has
no such code has one of our own system, with a text. https://hl7.org/fhir/R4B
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

import msgspec

from webapp.events.activities import ratings_in
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.library.own_movement import slot_of
from webapp.library.shelf import the_shelf
from webapp.records import carrying, events
from webapp.records.database import Database, instant
from webapp.sync.carrying.table import WHOLE_SHARE
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.log.diary import entries_of, of_phones

LOINC = "http://loinc.org"
OURS = "urn:halfturn:code"
CLIENT_ID = "urn:halfturn:client"
PAIN = {"system": LOINC, "code": "72514-3", "display": "Pain severity - 0-10 verbal numeric rating [Score] - Reported"}
TEXTS = {
    "morning-pain": "Pain on the morning after wrist work, 0 to 10, as the client rated it",
    "session-worst": "Worst discomfort in a session of wrist work, 0 to 10, as the client rated it",
    "session-done": "Share of the day's asked wrist work that was done in the session, per cent",
    "activity": "How well an activity of the client's own choice can be done, 0 (not at all) to 10 (as before)",
    "warning-sign": "A warning sign that the client told of",
}
UNREADABLE = "The log of this client cannot be read"
ARMS = {"right": "Right arm", "left": "Left arm"}

Resource = dict[str, Any]


def write_bundle(db: Database, client: int, now: datetime) -> Iterator[bytes]:
    """Write the Bundle of one client, piece by piece; a log that cannot be read is found before the first piece.

    Args:
        db: The records.
        client: The client's key.
        now: The instant of the call, with a zone.
    """
    return _bundle(list(_entries(db, client)), now)


def _bundle(entries: Iterable[Resource], now: datetime) -> Iterator[bytes]:
    head = {"resourceType": "Bundle", "type": "collection", "timestamp": instant(now)}
    yield msgspec.json.encode(head)[:-1] + b',"entry":[\n'
    for number, entry in enumerate(entries):
        yield (b",\n" if number else b"") + msgspec.json.encode(entry)
    yield b"\n]}\n"


def write_bundles(db: Database, clients: Sequence[int], now: datetime) -> Iterator[bytes]:
    """Write one Bundle a line (NDJSON) for several clients; of one whose log cannot be read the Patient and what is wrong."""
    for client in carrying.still_here(db, clients):
        try:
            whole = list(_entries(db, client))
        except FAULTS_OF_A_FOLD:
            whole = list(_of_unreadable(db, client))
        yield b"".join(_bundle(whole, now)).replace(b"\n", b"") + b"\n"


def _entries(db: Database, client: int) -> Iterator[Resource]:
    person = carrying.whole_person(db, client)
    patient = _id(person["public_id"], "patient")
    known = corrected_entries(of_phones(entries_of(events.of_client(db, client))))
    about = {"subject": {"reference": f"urn:uuid:{patient}"}}
    yield _entry(patient, _patient(person))
    for row in carrying.whole(db, client).versions:
        yield _entry(_id(person["public_id"], f"plan {row['version']}"), _plan(row) | about)
    for event in known:
        for number, resource in enumerate(_of_event(event)):
            yield _entry(_id(event.id, str(number)), resource | about)
    for number, rating in enumerate(ratings_in(known)):
        resource = _observation("activity", rating.on.isoformat(), {"valueInteger": rating.rating})
        named = {"note": [{"text": rating.activity}]} if rating.activity.strip() else {}
        yield _entry(_id(person["public_id"], f"rating {number}"), resource | named | about)


def _of_unreadable(db: Database, client: int) -> Iterator[Resource]:
    person = carrying.whole_person(db, client)
    patient = _id(person["public_id"], "patient")
    yield _entry(patient, _patient(person))
    issue = {"severity": "error", "code": "incomplete", "diagnostics": UNREADABLE}
    yield _entry(_id(person["public_id"], "outcome"), {"resourceType": "OperationOutcome", "issue": [issue]})


def _entry(id_: str, resource: Resource) -> Resource:
    return {"fullUrl": f"urn:uuid:{id_}", "resource": resource}


def _id(*parts: str) -> str:
    digits = hashlib.sha256(" ".join(parts).encode()).hexdigest()[:32]
    # Version 8 of RFC 9562: an id of a form of one's own. The same client has the same ids in each Bundle.
    digits = f"{digits[:12]}8{digits[13:16]}8{digits[17:]}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))


def _patient(person: Mapping[str, Any]) -> Resource:
    sex = msgspec.json.decode(person["intake"]).get("sex")
    return {
        "resourceType": "Patient",
        "identifier": [{"system": CLIENT_ID, "value": person["public_id"]}],
        "active": person["ended_at"] is None,
        "name": [{"text": person["name"]}],
        "gender": sex if sex in ("male", "female") else "unknown",
    }


def _plan(row: Mapping[str, Any]) -> Resource:
    routine = msgspec.json.decode(row["routine"])
    movements, names = [*routine.get("directions", ()), *routine.get("stretches", ())], _names(routine)
    plan: Resource = {
        "resourceType": "CarePlan",
        "status": "active" if row["received_on"] else "draft",
        "intent": "plan",
        "title": f"{routine.get('title', '')} (version {row['version']})".strip(),
        "created": row["pushed_at"],
    }
    if row["received_on"]:
        plan["period"] = {"start": row["received_on"]}
    if row["note"].strip():
        plan["note"] = [{"text": row["note"]}]
    if movements:
        plan["activity"] = [_activity(each, names.get(each, each), bool(row["received_on"])) for each in movements]
    return plan


def _names(routine: Mapping[str, Any]) -> dict[str, str]:
    """Return the name of every movement by id; the routine's own movements have theirs."""
    shelf = the_shelf()
    own = {slot_of(each["id"], each["like"], shelf): each["name"] for each in routine.get("own", ())}
    return {id_: movement.name for id_, movement in shelf.movements.items()} | own


def _activity(movement: str, name: str, is_received: bool) -> Resource:
    return {
        "detail": {
            "status": "in-progress" if is_received else "not-started",
            "code": {"coding": [{"system": OURS, "code": movement}], "text": name},
        }
    }


def _of_event(event: Event) -> Iterable[Resource]:
    on = event.on.isoformat()
    if event.kind == "morning_reported":
        return [_rating("morning-pain", on, arm, report.get("pain")) for arm, report in event.body["arms"].items()]
    if event.kind == "session_finished":
        return [each for arm, report in event.body["arms"].items() for each in _session(on, arm, report)]
    if event.kind == "warning_raised":
        sign = _sign_text(event.body["sign"])
        return [_observation("warning-sign", on, {"valueString": sign}, arm) for arm in event.body["arms"]]
    if event.kind == "screening_answered":
        return [_screening(event)]
    return []


def _session(on: str, arm: str, report: Mapping[str, Any]) -> list[Resource]:
    shares = [min(each["share"], WHOLE_SHARE) * 100 // WHOLE_SHARE if each["reps"] else 0 for each in report["sets"]]
    done = {
        "valueQuantity": {
            "value": min(shares, default=0),
            "unit": "%",
            "system": "http://unitsofmeasure.org",
            "code": "%",
        }
    }
    rated = [] if report.get("worst") is None else [_rating("session-worst", on, arm, report["worst"])]
    return [_observation("session-done", on, done, arm), *rated]


def _rating(code: str, on: str, arm: str, value: int | None) -> Resource:
    made = _observation(code, on, {"valueInteger": value}, arm)
    made["code"]["coding"].insert(0, PAIN)
    return made


def _observation(code: str, on: str, value: Resource, arm: str = "") -> Resource:
    made: Resource = {
        "resourceType": "Observation",
        "status": "final",
        "code": {"coding": [{"system": OURS, "code": code}], "text": TEXTS[code]},
        "effectiveDateTime": on,
        **value,
    }
    return made | ({"bodySite": {"coding": [{"system": OURS, "code": f"{arm}-arm"}], "text": ARMS[arm]}} if arm else {})


def _screening(event: Event) -> Resource:
    ticked = set(event.body["signs"])
    sign_ids = [
        *(sign.id for sign in the_shelf().warnings),
        *sorted(ticked - {sign.id for sign in the_shelf().warnings}),
    ]
    return {
        "resourceType": "QuestionnaireResponse",
        "status": "completed" if event.body["reached"] == "ask_first" else "stopped",
        "authored": event.at,
        "item": [
            {"linkId": sign, "text": _sign_text(sign), "answer": [{"valueBoolean": sign in ticked}]}
            for sign in sign_ids
            if sign in ticked or event.body["reached"] == "ask_first"
        ],
    }


def _sign_text(sign: str) -> str:
    return next((each.text for each in the_shelf().warnings if each.id == sign), sign)

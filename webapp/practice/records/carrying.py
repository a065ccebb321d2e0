"""Clients as files to take away: our own JSON, a table, FHIR; one client, all of the practitioner's own, or the whole practice's."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from flask import current_app, stream_with_context
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.records import carrying
from webapp.records.database import Database
from webapp.sync.carrying import fhir, own_file, table

Written = Iterator[bytes] | Iterator[str]
OfOne = Callable[[Database, int, datetime], Written]
OfMany = Callable[[Database, Sequence[int], datetime], Written]
TYPES = {
    "json": "application/json",
    "csv": "text/csv",
    "fhir": "application/fhir+json",
    "ndjson": "application/x-ndjson",
}


OF_ONE: dict[str, OfOne] = {
    "json": lambda db, client, now: own_file.write_file(db, [client], now),
    "csv": lambda db, client, _now: iter([table.of_client(db, client)]),
    "fhir": fhir.write_bundle,
}
OF_ALL: dict[str, OfMany] = {
    "json": own_file.write_file,
    "csv": lambda db, clients, _now: table.of_clients(db, clients),
    "ndjson": fhir.write_bundles,
}


def carry_one(public_id: str, form: str) -> Response:
    """Send one of the practitioner's own clients as a file."""
    case = desk.own_case(public_id)
    return _file(OF_ONE[form](desk.records(), case.id, desk.now()), form, public_id)


def carry_all(form: str) -> Response:
    """Send all of the practitioner's own clients as a file, the ended ones too."""
    clients = carrying.keys(desk.records(), desk.signed_in().id)
    return _file(OF_ALL[form](desk.records(), clients, desk.now()), form, "clients")


def carry_practice(form: str) -> Response:
    """Send the clients of everybody in the practice as a file; only an owner may, and the history keeps it."""
    clients = carrying.keys_of_practice(desk.records(), desk.owner().practice)
    return _file(OF_ALL[form](desk.records(), clients, desk.now()), form, "practice")


def _file(written: Written, form: str, name: str) -> Response:
    ending = "fhir.json" if form == "fhir" else form
    response: Response = current_app.response_class(stream_with_context(written), mimetype=TYPES[form])
    response.headers["Content-Disposition"] = f'attachment; filename="halfturn-{name}.{ending}"'
    return response

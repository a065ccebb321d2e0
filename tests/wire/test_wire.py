"""What goes between phone and server is described once: the structs, the scripts' types, the log's checks and the bundle agree."""

import copy
from typing import get_args

import msgspec
import pytest

from tests.cast import BELL_FOUNDER, FERRY_HAND
from tests.js.hostile_bodies import FITTING
from tests.vectors.wire import WRITTEN, declarations
from webapp.events.codec import check_body
from webapp.events.kinds import (
    ARMS,
    EASINGS,
    ENDINGS,
    EXPOSURES,
    INTAKE_PRIVATE,
    INTAKE_SAID,
    KINDS,
    SEEN_BY,
    EventError,
)
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import make_bundle, prescribed
from webapp.wire import arriving, entries, sessions
from webapp.wire.bundle import Bundle
from webapp.words import words_for

ENTRY = {"id": "i", "v": 1, "on": "2026-03-02", "at": "a", "zone": "UTC", "seq": 1}
KNOWN = {kind: body for kind, body in FITTING.items() if kind in KINDS}


def as_struct(kind, body):
    """Return an entry with this body as the struct of its kind."""
    return msgspec.convert({**ENTRY, "kind": kind, "body": body}, entries.AnyEntry)


def test_the_types_of_the_scripts_are_written_from_the_structs():
    assert WRITTEN.read_text(encoding="utf-8") == declarations(), "run: python -m tests.vectors.wire"


def test_every_kind_of_entry_has_a_struct():
    assert {each.__struct_config__.tag for each in get_args(entries.AnyEntry)} == set(KINDS)


@pytest.mark.parametrize("kind", KNOWN)
def test_a_body_that_fits_its_kind_fits_its_struct_with_nothing_left_over(kind):
    check_body(kind, KNOWN[kind])
    assert msgspec.to_builtins(as_struct(kind, KNOWN[kind]))["body"] == KNOWN[kind]


def fields_in(value, path=()):
    """Find every field that stands in a body, however deep."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield (*path, name)
            yield from fields_in(inner, (*path, name))
    if isinstance(value, list):
        for number, inner in enumerate(value):
            yield from fields_in(inner, (*path, number))


FIELDS = [(kind, path) for kind, body in KNOWN.items() for path in fields_in(body) if kind != "entry_corrected"]


@pytest.mark.parametrize(("kind", "path"), FIELDS)
def test_a_field_of_another_type_is_refused_by_the_log_and_by_the_struct(kind, path):
    body = copy.deepcopy(KNOWN[kind])
    inner = body
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = {"neither": [None]}
    with pytest.raises(EventError):
        check_body(kind, body)
    with pytest.raises(msgspec.ValidationError):
        as_struct(kind, body)


def test_the_struct_names_the_words_that_the_log_allows():
    def literals(struct, field):
        return set(get_args(struct.__annotations__[field]))

    assert literals(sessions.SessionBody, "ended") == set(ENDINGS)
    assert literals(sessions.Eased, "what") == set(EASINGS)
    assert literals(entries.ExposureBody, "what") == set(EXPOSURES)
    assert literals(arriving.SeenBy, "role") == set(SEEN_BY)
    assert literals(arriving.IntakeChange, "field") == {*INTAKE_SAID, *INTAKE_PRIVATE}
    assert set(KNOWN["morning_reported"]["arms"]) == set(ARMS)


@pytest.mark.parametrize("client", [BELL_FOUNDER, FERRY_HAND])
def test_a_bundle_has_the_fields_of_its_struct_and_no_other(client):
    bundle = make_bundle(prescribed(starter(client.area), client.settings, 1), words_for(), the_shelf())
    assert msgspec.json.decode(msgspec.json.encode(msgspec.convert(bundle, Bundle))) == bundle

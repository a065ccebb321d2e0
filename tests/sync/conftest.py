"""Clients of one practitioner in an empty database, and functions that send events as a phone does."""

import json

import pytest

from tests.builders import enrol, event, hire
from tests.cast import BELL_FOUNDER, BOOKBINDER, CELLIST, FIRST_DAY, HEDDA, NOW
from webapp.sync.take import take_batch


@pytest.fixture
def hedda(db):
    return hire(db, HEDDA)


@pytest.fixture
def ansgar(db, hedda):
    return enrol(db, hedda.id, BELL_FOUNDER)


@pytest.fixture
def mirela(db, hedda):
    return enrol(db, hedda.id, BOOKBINDER)


@pytest.fixture
def isaura(db, hedda):
    return enrol(db, hedda.id, CELLIST)


@pytest.fixture
def send(db):
    """A function that sends events from a phone of a client, and returns the results."""

    def send_events(client, *sent, phone="phone"):
        return take_batch(db, client.id, phone, [json.dumps(event).encode() for event in sent], NOW)

    return send_events


@pytest.fixture
def received():
    """A function that makes the event with which a phone says that it received a routine version."""

    def receipt(version=1, on=FIRST_DAY, seq=900):
        return event("routine_received", on, {"version": version, "bundle": "b"}, seq=seq)

    return receipt

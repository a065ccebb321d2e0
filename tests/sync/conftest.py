"""Clients of one practitioner in an empty database, and functions that send events as a phone does."""

import json

import pytest

from tests.builders import event
from tests.cast import FIRST_DAY, NOW
from webapp.sync.log.take import take_batch


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

"""The application over an empty database, clients with invitations, and phones that have joined."""

import pytest

from tests.cast import NOW, ZONE
from webapp.app import create_app
from webapp.config import Settings

OWN = {"Sec-Fetch-Site": "same-origin"}


class Clock:
    """A clock that shows one instant until a test changes it."""

    def __init__(self):
        self.now = NOW

    def __call__(self):
        return self.now


class Phone:
    """A browser that may have joined."""

    def __init__(self, app):
        self.browser = app.test_client()
        self.client = self.device = None

    def join(self, headers=OWN, **invitation):
        answer = self.browser.post("/api/join", json={"device_name": "a phone", **invitation}, headers=headers)
        if answer.status_code == 200:
            self.client, self.device = answer.json["client"]["id"], answer.json["device"]
        return answer

    def sync(self, *events, headers=OWN, **other):
        sync_request = {
            "format": 1, "client": self.client, "device": self.device, "epoch": None, "cursor": 0, "on": "2026-03-02",
            "zone": ZONE, "sent_at": "2026-03-02T09:30:00.000Z", "locale": "en", "bundle": None, "events": list(events),
        }  # fmt: skip
        return self.browser.post("/api/sync", json={**sync_request, **other}, headers=headers)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def app(db, db_path, clock):
    return create_app(Settings(db=db_path), clock)


@pytest.fixture
def secure_app(db, db_path, clock):
    return create_app(Settings(db=db_path, origin="https://halfturn.example"), clock)


@pytest.fixture
def phone(app, ansgar):
    """The phone of the bell founder, joined."""
    joined = Phone(app)
    joined.join(token=ansgar.token)
    return joined


@pytest.fixture
def other_phone(app, isaura):
    """The phone of the cellist, joined."""
    joined = Phone(app)
    joined.join(token=isaura.token)
    return joined


@pytest.fixture
def stranger(app):
    """A phone that has not joined any client."""
    return Phone(app)

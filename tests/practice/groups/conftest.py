"""A group of Hedda's, and phones that join it by its link over HTTP."""

from typing import Any

import pytest

from tests.builders import event, screened, uuid7
from tests.cast import FIRST_DAY, ZONE
from tests.practice.conftest import Site
from tests.practice.visitor import HEADERS, Visitor
from webapp.records import groups
from webapp.records.groups import GroupInvitation

TOLD = {
    "arms": ["right"],
    "places": ["outer_elbow"],
    "usual": 2,
    "activities": [],
    "weights_kg": [0.5, 1],
    "sport_days": 0,
    "other_care": [],
    "mass_kg": 70,
    "height_m": 1.75,
}


class Newcomer:
    """A phone with its own cookies that joins a group."""

    def __init__(self, site: Site, number: int = 1) -> None:
        self.browser, self.number = site.app.test_client(), number
        self.joined: dict[str, Any] = {}

    def offer(self, token: str):
        return self.browser.post("/api/invitation", json={"token": token}, headers=HEADERS)

    def join(self, token: str, key: str = "", first_name: str = ""):
        invitation = {"token": token, "key": key, "first_name": first_name}
        answer = self.browser.post("/api/join", json=invitation, headers=HEADERS)
        if answer.status_code == 200:
            self.joined = answer.json
        return answer

    def answer(self, *signs: str, **changes: Any):
        """Answer the questions: the signs that are ticked, and what differs from a client who may start at once."""
        first, second = 1000 + self.number * 2, 1001 + self.number * 2
        body = {name: value for name, value in (TOLD | changes).items() if value is not None}
        screening = screened(FIRST_DAY, *signs, seq=1, id=uuid7(first))
        return self.sync(screening, event("intake_told", FIRST_DAY, body, seq=2, id=uuid7(second)))

    def sync(self, *events: dict):
        request = {
            "format": 1, "client": self.joined["client"]["id"], "device": self.joined["device"], "epoch": None,
            "cursor": 0, "on": "2026-03-09", "zone": ZONE, "sent_at": "2026-03-09T09:30:00.000Z", "locale": "en",
            "bundle": None, "events": list(events),
        }  # fmt: skip
        return self.browser.post("/api/sync", json=request, headers=HEADERS)


def invite(visitor: Visitor, **changes: str) -> str:
    """Make a group at the desk, and return its address."""
    visitor.open("/practice/groups/add")
    chosen = {"name": "Tuesday", "area": "outer_elbow", "started_unseen": "yes", **changes}
    answer = visitor.fill("", chosen, post_to="/practice/groups/add", follow=False)
    return answer.headers.get("Location", "")


@pytest.fixture
def group(site: Site, hedda: Visitor) -> GroupInvitation:
    """Tuesday: a class of Hedda's for the outer elbow, for 30 people."""
    invite(hedda)
    return groups.of_practitioner(site.db, site.hedda.id)[0]

"""A phone for the trial of kills: it makes entries, sends them over HTTP, and remembers which were acknowledged."""

import json
import urllib.error
import urllib.request
from datetime import UTC, date, datetime
from http.client import HTTPException
from random import Random
from typing import Any

from webapp.sync.log.practice_events import uuid7

ON = date(2026, 3, 2)
AT = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
PATIENCE_S = 15
RANDOM_BITS = 74
OWN = {"Content-Type": "application/json", "Sec-Fetch-Site": "same-origin"}
MOST_SENT = 20
KEPT = ("stored", "duplicate")


class NoAnswerError(ConnectionError):
    """The server did not answer, or its answer broke off."""


def ask(origin: str, path: str, fields: dict[str, Any] | None, cookie: str = "") -> tuple[int, Any, str]:
    """Send one request to a server.

    Args:
        origin: Scheme, host and port.
        path: The path.
        fields: The JSON body; None for a GET.
        cookie: Name and value, or "".

    Returns:
        The status, the answer's JSON, and the cookie that it sets, or "".

    Raises:
        NoAnswerError: No whole answer came.
    """
    body = None if fields is None else json.dumps(fields).encode()
    request = urllib.request.Request(origin + path, body, {**OWN, "Cookie": cookie})  # noqa: S310 - our own address
    try:
        with urllib.request.urlopen(request, timeout=PATIENCE_S) as answer:  # noqa: S310 - as above
            return answer.status, json.load(answer), (answer.headers.get("Set-Cookie") or "").partition(";")[0]
    except urllib.error.HTTPError as error:
        return error.code, _read(error), ""
    except (OSError, ValueError, HTTPException) as error:
        raise NoAnswerError(path) from error


def _read(error: urllib.error.HTTPError) -> Any:
    try:
        return json.load(error)
    except (OSError, ValueError, HTTPException):
        return None


class Phone:
    """A phone of one client.

    Attributes:
        made: Every entry that the phone made, by id.
        acknowledged: The ids of the entries that a server has acknowledged.
        waiting: The ids of the entries that are not sent yet.
    """

    def __init__(self, client: str, rng: Random) -> None:
        self.client, self.rng = client, rng
        self.cookie, self.device, self.cursor = "", "", 0
        self.epoch: str | None = None
        self.made: dict[str, dict[str, Any]] = {}
        self.acknowledged: set[str] = set()
        self.waiting: list[str] = []

    def join(self, origin: str, token: str) -> bool:
        """Join by a link; return whether the phone has joined."""
        status, reply, cookie = ask(origin, "/api/join", {"token": token, "device_name": "trial"})
        if status == 200:  # noqa: PLR2004 - HTTP's own number
            self.cookie, self.device = cookie, reply["device"]
        return bool(self.cookie)

    def leave(self, origin: str) -> bool:
        """Leave; return whether the server confirmed it."""
        return ask(origin, "/api/leave", {}, self.cookie)[0] == 200  # noqa: PLR2004 - HTTP's own number

    def write(self, count: int) -> None:
        """Make entries."""
        for _ in range(count):
            event_id = uuid7(AT, self.rng.getrandbits(RANDOM_BITS))
            body = {"habit": "wrist straight", "kept": self.rng.random() < 0.5}  # noqa: PLR2004 - one or the other
            self.made[event_id] = {
                "id": event_id, "kind": "habit_noted", "v": 1, "on": ON.isoformat(), "at": AT.isoformat(),
                "zone": "Europe/Lisbon", "seq": len(self.made) + 1, "body": body,
            }  # fmt: skip
            self.waiting.append(event_id)

    def sync(self, origin: str) -> int:
        """Send waiting entries, as the phone's script does; return the status."""
        batch = self.waiting[:MOST_SENT]
        request = {
            "format": 1, "client": self.client, "device": self.device, "epoch": self.epoch, "cursor": self.cursor,
            "on": ON.isoformat(), "locale": "en", "bundle": None, "events": [self.made[each] for each in batch],
        }  # fmt: skip
        status, reply, _ = ask(origin, "/api/sync", request, self.cookie)
        if status == 200:  # noqa: PLR2004 - HTTP's own number
            self._take(reply)
        return status

    def _take(self, reply: dict[str, Any]) -> None:
        kept = {each["id"] for each in reply["results"] if each["status"] in KEPT}
        self.acknowledged |= kept
        if self.epoch not in (None, reply["epoch"]):
            # The server has lost entries, so the phone sends all of them again.
            self.epoch, self.cursor, self.waiting = reply["epoch"], 0, list(self.made)
            return
        self.waiting = [each for each in self.waiting if each not in kept]
        self.epoch, self.cursor = reply["epoch"], reply["cursor"]

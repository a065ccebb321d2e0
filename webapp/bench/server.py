"""Times the server: the caseload, a case page, syncs; each is compared with a floor of the same run."""

import json
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter, process_time
from typing import Any

from flask import Flask, request

from webapp.app import renew_rows
from webapp.bench.full_practice import FullPractice, full_practice
from webapp.records import events
from webapp.records.database import open_records, write
from webapp.records.events import NewEvent
from webapp.records.making import make_records
from webapp.words import Words
from webapp.words import bench as say

CLIENTS, DAYS, CASE_DAYS = 300, 365, (60, 400, 2000)
ROUNDS = 30
FEW = 5
"""Rounds of work that takes long."""
LATE_DAYS = 60

Work = Callable[[], object]


def _nothing() -> None:
    """Do nothing."""


def timed(work: Work, rounds: int, before: Work = _nothing) -> dict[str, float]:
    """Time a piece of work: one call to warm up, then one call a round. `before` is called each time and not timed.

    Returns:
        Milliseconds: the medians of processor time and wall time, and the longest wall time.
    """
    processor, wall = [], []
    for _ in range(rounds + 1):
        before()
        began, used = perf_counter(), process_time()
        work()
        processor.append(1e3 * (process_time() - used))
        wall.append(1e3 * (perf_counter() - began))
    return {
        "processor_ms": round(median(processor[1:]), 3),
        "wall_ms": round(median(wall[1:]), 3),
        "longest_wall_ms": round(max(wall[1:]), 3),
    }


def beside(took: Mapping[str, float], floor: Mapping[str, float]) -> dict[str, float]:
    """Return the times of a piece of work with its ratios to the floor: how many times the floor, and the inverse."""
    return {
        **took,
        "times_the_floor": round(took["processor_ms"] / floor["processor_ms"], 1),
        "floor_by_this": round(floor["processor_ms"] / took["processor_ms"], 3),
        "wall_floor_by_this": round(floor["wall_ms"] / took["wall_ms"], 3),
    }


class _Bare:
    """A bare Flask application: it says hello, or stores the posted events in one commit and returns the last one."""

    def __init__(self, path: Path) -> None:
        """Make the records with one client in them."""
        make_records(path)
        self.db, self.sent = open_records(path), 0
        self.db.execute(
            "INSERT INTO practitioners (name, email, password_hash, created_at) VALUES ('Bench', 'bench@halfturn.example', '-', '-')"
        )
        self.db.execute(
            "INSERT INTO clients (id, public_id, practitioner, name, locale, intake, created_at)"
            " VALUES (1, 'bench00001', 1, 'Bench', 'en', '{}', '-')"
        )
        self.db.conn.commit()
        app = Flask("bare")
        app.add_url_rule("/", "hello", lambda: "hello")
        app.add_url_rule("/sync", "sync", self._sync, methods=["POST"])
        self.client = app.test_client()

    def _sync(self) -> str:
        new_events = [
            NewEvent(each["id"], each["on"], each["kind"], each["seq"], json.dumps(each), "-")
            for each in request.json or ()
        ]
        with write(self.db):
            events.append(self.db, 1, "bench", new_events, self.now)
            last = self.db.execute("SELECT raw FROM events WHERE client = 1 ORDER BY seq DESC LIMIT 1").fetchone()
        return str(last[0])

    def hello(self) -> None:
        """Say hello."""
        self.client.get("/")

    def measure(self, practice: FullPractice, rounds: int) -> tuple[dict[str, float], dict[str, float]]:
        """Time hello, and the storing of three entries."""
        self.now = practice.now
        batch: list[dict[str, object]] = []

        def prepare() -> None:
            batch[:] = practice.new_events(3)

        return timed(self.hello, 10 * rounds), timed(lambda: self.client.post("/sync", json=batch), rounds, prepare)


def _syncs(
    practice: FullPractice, hello: Mapping[str, float], bare: Mapping[str, float], rounds: int
) -> dict[str, Any]:
    """Time a phone's syncs: empty ones, the first of a day with three entries, and one with a late entry."""
    phone, batch = practice.join(0), list(practice.new_events(0))
    phone.sync()

    def next_day() -> None:
        practice.pass_days(1)
        batch[:] = practice.new_events(3)

    def late() -> None:
        batch[:] = practice.new_events(1, LATE_DAYS)

    return {
        "empty_sync": beside(timed(phone.sync, 10 * rounds), hello),
        "sync_of_3_events_first_of_a_day": beside(timed(lambda: phone.sync(batch), rounds, next_day), bare),
        "sync_of_a_late_event": beside(timed(lambda: phone.sync(batch), FEW, late), bare),
    }


def _caseload(practice: FullPractice, hello: Mapping[str, float], rounds: int) -> dict[str, Any]:
    look = practice.look
    without_rows = beside(timed_once(look), hello)
    # One look reads logs for half a second only; what it leaves would be read by those that are timed next.
    renew_rows(practice.app, lambda _: False)
    return {
        "caseload_without_rows": without_rows,
        "caseload": beside(timed(look, rounds), hello),
        "caseload_first_look_of_a_day": beside(timed(look, rounds, lambda: practice.pass_days(1)), hello),
        "caseload_after_a_push": beside(timed(look, rounds, lambda: practice.push_to(1)), hello),
    }


def timed_once(work: Work) -> dict[str, float]:
    """Time work that can be done only once, without a warm-up."""
    began, used = perf_counter(), process_time()
    work()
    wall = round(1e3 * (perf_counter() - began), 3)
    return {"processor_ms": round(1e3 * (process_time() - used), 3), "wall_ms": wall, "longest_wall_ms": wall}


def _case_pages(hello: Mapping[str, float], lengths: Sequence[int]) -> dict[str, Any]:
    return {f"case_page_{days}_days": beside(_case_page(days), hello) for days in lengths}


def _case_page(days: int) -> dict[str, float]:
    with full_practice(1, days) as practice:
        return timed(partial(practice.look, f"/cases/{practice.clients[0][1]}"), FEW)


def _ways(lengths: Sequence[int]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for days in lengths:
        plain = found[f"sync_after_{days}_days"] = _first_sync_of_a_day(days, has_way=False)
        found[f"sync_on_a_way_back_after_{days}_days"] = beside(_first_sync_of_a_day(days, has_way=True), plain)
    return found


def _first_sync_of_a_day(days: int, *, has_way: bool) -> dict[str, float]:
    with full_practice(1, days) as practice:
        if has_way:
            practice.open_way(0)
        phone, batch = practice.join(0), list(practice.new_events(0))
        phone.sync()

        def next_day() -> None:
            practice.pass_days(1)
            batch[:] = practice.new_events(3)

        return timed(lambda: phone.sync(batch), FEW, next_day)


def bench_server(
    words: Words,
    clients: int = CLIENTS,
    days: int = DAYS,
    rounds: int = ROUNDS,
    case_days: Sequence[int] = CASE_DAYS,
) -> dict[str, Any]:
    """Measure, and return the figures.

    Args:
        words: The language of the sentences beside the figures.
        clients: The number of clients in the caseload.
        days: How many days each client has trained.
        rounds: The rounds of short work, 1 or more.
        case_days: How many days the client of each case page has trained.
    """
    with TemporaryDirectory() as folder, full_practice(clients, days) as practice:
        bare = _Bare(Path(folder) / "bare.db")
        hello, stores = bare.measure(practice, rounds)
        bare.db.conn.close()
        return {
            "floor": words.say(say.SERVER_FLOOR),
            "noise": words.say(say.SERVER_NOISE),
            "clients": clients,
            "days": days,
            "hello": hello,
            "bare_sync_of_3_events": stores,
            **_caseload(practice, hello, FEW),
            **_syncs(practice, hello, stores, rounds),
            **_case_pages(hello, case_days),
            **_ways(case_days),
        }

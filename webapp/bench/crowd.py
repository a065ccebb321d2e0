"""How long a phone waits for a page while strangers hold requests open and the desk's pages are loaded without pause."""

import http.client
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from statistics import median
from typing import Any
from urllib.parse import urlsplit

from webapp.bench.served import served_client
from webapp.words import Words
from webapp.words import bench as say

ROUNDS = 200
STRANGERS, DESKS = 8, 4
PAGE, DESK_PAGE = "/app/en/", "/practice/sign-in"
PATIENCE_SECONDS = 30
UNFINISHED = (
    "POST /api/join HTTP/1.1\r\nHost: {host}\r\nSec-Fetch-Site: same-origin\r\n"
    "Content-Type: application/json\r\nContent-Length: 5000\r\n\r\nx"
)


def bench_crowd(words: Words, rounds: int = ROUNDS) -> dict[str, Any]:
    """Measure, and return the figures.

    Args:
        words: The language of the sentences beside the figures.
        rounds: How many pages are loaded in each state of the crowd, 1 or more.
    """
    with served_client() as (origin, _), ExitStack() as crowd:
        host = urlsplit(origin).netloc
        quiet = _waits(host, rounds)
        for _ in range(STRANGERS):
            crowd.enter_context(_stranger(host))
        strangers = _waits(host, rounds)
        loaded = crowd.enter_context(_busy_desk(host))
        desk = _waits(host, rounds)
        return {
            "method": [words.say(line) for line in say.CROWD_METHOD],
            "rounds": rounds,
            "nobody_else": _figures(quiet, quiet),
            "eight_unfinished_bodies": _figures(strangers, quiet),
            "and_four_desk_pages_at_a_time": {**_figures(desk, quiet), "desk_pages_loaded": len(loaded)},
        }


def _figures(waits: list[float], floor: list[float]) -> dict[str, float]:
    return {
        "median_ms": round(1e3 * median(waits), 2),
        "longest_ms": round(1e3 * max(waits), 2),
        "times_the_floor": round(median(waits) / median(floor), 1),
    }


def _waits(host: str, rounds: int) -> list[float]:
    """Load the page `rounds` times; return the seconds of each."""
    line = http.client.HTTPConnection(host, timeout=PATIENCE_SECONDS)
    found = []
    for _ in range(rounds):
        began = time.perf_counter()
        _load(line, PAGE)
        found.append(time.perf_counter() - began)
    line.close()
    return found


def _load(line: http.client.HTTPConnection, path: str) -> None:
    line.request("GET", path)
    answer = line.getresponse()
    answer.read()
    if answer.status != http.client.OK:
        raise RuntimeError(f"{path} answers {answer.status}, and only a good page may be timed")


def _stranger(host: str) -> socket.socket:
    name, port = host.split(":")
    line = socket.create_connection((name, int(port)), timeout=PATIENCE_SECONDS)
    line.sendall(UNFINISHED.format(host=host).encode())
    return line


@contextmanager
def _busy_desk(host: str) -> Iterator[list[float]]:
    """Load desk pages from four browsers while the context is open; yield a list with the instant of each loaded page.

    Each browser has loaded one page before the context opens.
    """
    stop, loaded = threading.Event(), list[float]()
    begun = threading.Barrier(DESKS + 1, timeout=PATIENCE_SECONDS)

    def load(line: http.client.HTTPConnection) -> None:
        _load(line, DESK_PAGE)
        loaded.append(time.perf_counter())

    def browse() -> None:
        line = http.client.HTTPConnection(host, timeout=PATIENCE_SECONDS)
        load(line)
        begun.wait()
        while not stop.is_set():
            load(line)
        line.close()

    browsers = [threading.Thread(target=browse) for _ in range(DESKS)]
    for each in browsers:
        each.start()
    try:
        begun.wait()
        yield loaded
    finally:
        stop.set()
        for each in browsers:
            each.join()

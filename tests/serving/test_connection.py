"""Connections with short limits, in a server of this process: who is cut off, and who is served meanwhile."""

import socket
import threading
import time
from contextlib import contextmanager

import pytest
from uvicorn import Config, Server

from tests.serving.wire import PATIENCE
from webapp.serving.connection import Connection
from webapp.serving.front import Front

LARGE = b"x" * 40_000_000
"""More than the buffers of both ends of a socket hold."""


def program(environ, start_response):
    body = environ["wsgi.input"].read()
    start_response("200 OK", [("Content-Type", "text/plain"), ("X-Path", environ["PATH_INFO"])])
    return [LARGE if environ["PATH_INFO"] == "/large" else b"took %d" % len(body)]


class Short(Connection):
    """Waits a second where the real one waits many."""

    quiet_seconds, request_seconds, answer_seconds = 1, 1.5, 2


class Quiet(Connection):
    """As `Short`, but for a silence that never counts, so that only the whole request has a limit."""

    quiet_seconds, request_seconds = 60, 1


class Few(Connection):
    """There may be four."""

    most = 4


@contextmanager
def served(connection, wsgi=program, end_seconds=5):
    listener = socket.create_server(("127.0.0.1", 0))
    front = Front(wsgi, 400_000)
    config = Config(
        front, http=connection, loop="asyncio", ws="none", lifespan="off", log_config=None, access_log=False,
        timeout_graceful_shutdown=end_seconds,
    )  # fmt: skip
    server = Server(config)
    thread = threading.Thread(target=server.run, args=([listener],))
    thread.start()
    try:
        yield listener.getsockname()[1], server
    finally:
        server.should_exit = True
        thread.join(PATIENCE)
        front.end()


@pytest.mark.parametrize(
    "sent", [b"", b"GET / HTTP/1.1\r\nHost: a", b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 9\r\n\r\nx"]
)
def test_who_says_nothing_or_half_of_it_is_cut_off(line, sent):
    with served(Short) as (port, _):
        silent = line(port)
        silent.socket.sendall(sent)
        assert silent.is_closed_by_the_server()


def test_who_sends_a_byte_now_and_then_is_cut_off_too(line):
    with served(Quiet) as (port, _):
        dripping = line(port)
        dripping.send("POST", "/", {"Content-Length": "400000"})
        dripping.socket.settimeout(0.05)
        until = time.monotonic() + PATIENCE
        closed = False
        while not closed and time.monotonic() < until:
            try:
                dripping.socket.sendall(b"x")
                closed = dripping.socket.recv(1) == b""
            except TimeoutError:
                continue
            except OSError:
                closed = True
        assert closed


def test_who_fetches_no_answer_takes_no_thread_and_is_cut_off(line):
    with served(Short) as (port, server):
        slow = [line(port).send("GET", "/large") for _ in range(8)]
        assert line(port).ask("/").body == b"took 0"
        until = time.monotonic() + PATIENCE
        while server.server_state.connections and time.monotonic() < until:
            threading.Event().wait(0.02)
        assert not server.server_state.connections
    assert len(slow) == 8


def test_one_connection_too_many_closes_the_one_that_kept_us_waiting_longest(line):
    with served(Few) as (port, _):
        first, *others = [line(port).send("GET", "/") for _ in range(4)]
        assert [each.read().status for each in [first, *others]] == [200] * 4
        for each in others:
            each.ask("/")
        newcomer = line(port)
        assert newcomer.ask("/").status == 200
        assert first.is_closed_by_the_server()
        assert [each.ask("/").status for each in others] == [200] * 3


def test_one_connection_carries_many_requests_one_after_another_or_all_at_once(line):
    with served(Connection) as (port, _):
        kept = line(port)
        assert [kept.ask("/").status for _ in range(3)] == [200] * 3
        requests = b"".join(b"GET /%d HTTP/1.1\r\nHost: a\r\n\r\n" % number for number in range(3))
        many = line(port)
        many.socket.sendall(requests)
        said = b""
        while said.count(b"took 0") < 3:
            said += many.socket.recv(65536)
        places = [said.index(b"x-path: /%d" % number) for number in range(3)]
        assert places == sorted(places)


def test_the_body_of_an_answer_does_not_wait_until_its_head_is_acknowledged(line):
    with served(Connection) as (port, server):
        line(port).ask("/")
        (connection,) = server.server_state.connections
        kept = connection.transport.get_extra_info("socket")
        assert kept.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


def test_a_body_in_chunks_arrives_whole(line):
    with served(Connection) as (port, _):
        sent = {"Transfer-Encoding": "chunked"}
        answer = line(port).ask("/", "POST", sent, b"3\r\nabc\r\n4\r\ndefg\r\n0\r\n\r\n")
        assert answer.body == b"took 7"


def test_a_request_whose_length_is_said_twice_and_differently_is_refused(line):
    with served(Connection) as (port, _):
        asking = line(port)
        asking.socket.sendall(b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 3\r\nContent-Length: 4\r\n\r\nabcd")
        assert asking.read().status == 400


def test_a_request_that_has_begun_is_finished_when_the_server_ends(line):
    begun, go_on = threading.Event(), threading.Event()

    def slow(environ, start_response):
        begun.set()
        go_on.wait(PATIENCE)
        return program(environ, start_response)

    with served(Connection, slow) as (port, server):
        asking = line(port).send("GET", "/")
        assert begun.wait(PATIENCE)
        server.should_exit = True
        go_on.set()
        assert asking.read().body == b"took 0"


def test_a_request_that_does_not_end_keeps_no_server_from_ending(line):
    begun, go_on = threading.Event(), threading.Event()

    def endless(environ, start_response):
        begun.set()
        go_on.wait(PATIENCE)
        return program(environ, start_response)

    with served(Connection, endless, end_seconds=1) as (port, server):
        asking = line(port).send("GET", "/")
        assert begun.wait(PATIENCE)
        server.should_exit = True
        assert asking.read().status == 503
        go_on.set()

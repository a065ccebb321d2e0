"""What stands between the loop and the program, without a network: whole requests, two groups of threads."""

import asyncio
import threading
from io import BytesIO

import pytest

from webapp.serving.environ import environ_of
from webapp.serving.front import DESK_THREADS, FILES_AT_ONCE, PHONE_THREADS, PIECE_BYTES, Front

MOST = 1000
PATIENCE = 30


def scope_of(path="/api/sync", method="POST", headers=()):
    return {
        "type": "http", "method": method, "path": path, "raw_path": path.encode(), "query_string": b"a=1",
        "http_version": "1.1", "scheme": "http", "server": ("127.0.0.1", 8765), "client": ("192.0.2.7", 50000),
        "headers": list(headers),
    }  # fmt: skip


class Asker:
    """One request and what came back; it stays, or leaves before the end of its body, or after."""

    def __init__(self, path="/api/sync", parts=(b"",), headers=(), *, leaves=False, leaves_after=False, stays=False):
        self.scope, self.leaves, self.leaves_after = scope_of(path, headers=headers), leaves, leaves_after
        self.stays = stays
        self.parts, self.answer, self.asked_for = list(parts), [], 0

    async def receive(self):
        self.asked_for += 1
        if self.parts:
            body = self.parts.pop(0)
            return {"type": "http.request", "body": body, "more_body": bool(self.parts) or self.leaves or self.stays}
        if not (self.leaves or self.leaves_after):
            await asyncio.Event().wait()
        return {"type": "http.disconnect"}

    async def send(self, message):
        self.answer.append(message)

    async def ask(self, front):
        await asyncio.wait_for(front(self.scope, self.receive, self.send), PATIENCE)
        return self


class Program:
    """Answers with what it was sent, and keeps the requests it saw."""

    def __init__(self):
        self.seen = []

    def __call__(self, environ, start_response):
        body = environ["wsgi.input"].read()
        self.seen.append((environ["PATH_INFO"], environ["CONTENT_LENGTH"], body))
        start_response("201 Created", [("Content-Type", "text/plain"), ("X-Kept", "yes")])
        return [body[:3], body[3:]]


@pytest.fixture
def program():
    return Program()


@pytest.fixture
def front(program):
    made = Front(program, MOST)
    yield made
    made.end()


def test_a_body_that_comes_in_parts_is_handed_over_whole(front, program):
    asker = asyncio.run(Asker(parts=[b"abc", b"", b"defg"]).ask(front))
    assert program.seen == [("/api/sync", "7", b"abcdefg")]
    start, body = asker.answer
    assert (start["status"], start["headers"]) == (201, [(b"content-type", b"text/plain"), (b"x-kept", b"yes")])
    assert body["body"] == b"abcdefg"


def test_who_leaves_before_the_end_of_a_body_takes_no_thread(front, program):
    asker = asyncio.run(Asker(parts=[b"abc"], leaves=True).ask(front))
    assert (program.seen, asker.answer) == ([], [])


def test_of_a_body_said_to_be_too_long_the_program_sees_the_length_alone(front, program):
    asker = asyncio.run(Asker(parts=[b"x"], headers=[(b"content-length", b"1001")]).ask(front))
    assert program.seen == [("/api/sync", "1001", b"")]
    assert asker.asked_for == 0, "nothing is read"


def test_a_body_of_unsaid_length_is_read_no_further_than_the_limit(front, program):
    asker = asyncio.run(Asker(parts=[b"x" * 600] * 5, headers=[(b"transfer-encoding", b"chunked")]).ask(front))
    assert [length for _, length, _ in program.seen] == ["1200"]
    assert len(asker.parts) == 3, "the rest is left where it is"


def test_one_address_may_take_more_where_its_length_is_said_and_two_at_a_time(program):
    front = Front(program, MOST, {"/practice/file": 5000})
    said = lambda number: [(b"content-length", str(number).encode())]  # noqa: E731

    async def story():
        await Asker("/practice/file", [b"x" * 3000], said(3000)).ask(front)
        await Asker("/practice/file", [b"x"], said(5001)).ask(front)
        await Asker("/practice/other", [b"x"], said(3000)).ask(front)
        await Asker("/practice/file", [b"x" * 600] * 9, [(b"transfer-encoding", b"chunked")]).ask(front)
        stuck = [Asker("/practice/file", [b"x"], said(3000), stays=True) for _ in range(FILES_AT_ONCE + 1)]
        tasks = [asyncio.create_task(each.ask(front)) for each in stuck]
        await asyncio.wait(tasks, timeout=0.1)
        read = [each.asked_for > 0 for each in stuck]
        for task in tasks:
            task.cancel()
        return read

    assert asyncio.run(story()) == [True] * FILES_AT_ONCE + [False]
    assert [length for _, length, _ in program.seen] == ["3000", "5001", "3000", "1200"]
    assert [len(body) for _, _, body in program.seen] == [3000, 0, 0, 1200]
    front.end()


def test_a_long_answer_is_sent_in_pieces_and_whole():
    def program(_environ, start_response):
        start_response("200 OK", [])
        return (bytes([number]) * 100_000 for number in range(30))

    front = Front(program, MOST)
    _, *pieces = asyncio.run(Asker("/practice/records").ask(front)).answer
    assert b"".join(each["body"] for each in pieces) == b"".join(bytes([number]) * 100_000 for number in range(30))
    assert max(len(each["body"]) for each in pieces) == PIECE_BYTES
    assert [each["more_body"] for each in pieces] == [True] * (len(pieces) - 1) + [False]
    front.end()


class Gate:
    """A program whose desk is slow: its pages wait until the gate opens. Everything else is answered at once."""

    def __init__(self):
        self.opened, self.is_full, self.begun = threading.Event(), threading.Event(), []

    def __call__(self, environ, start_response):
        self.begun.append(environ["PATH_INFO"])
        if len(self.begun) == DESK_THREADS:
            self.is_full.set()
        if environ["PATH_INFO"].startswith("/practice"):
            self.opened.wait(PATIENCE)
        start_response("200 OK", [])
        return [b"done"]


def test_desk_pages_that_never_end_keep_no_phone_waiting():
    gate = Gate()
    front = Front(gate, MOST)

    async def story():
        desks = [asyncio.create_task(Asker(path).ask(front)) for path in ("/practice", "/practice/cases/a") * 4]
        phones = [await Asker("/").ask(front) for _ in range(PHONE_THREADS + 1)]
        assert [phone.answer[0]["status"] for phone in phones] == [200] * len(phones)
        assert not any(desk.answer for desk in desks if desk.done())
        assert len([path for path in gate.begun if path != "/"]) <= DESK_THREADS
        gate.opened.set()
        assert [(await desk).answer[0]["status"] for desk in desks] == [200] * 8

    asyncio.run(story())
    assert front.end()


def test_what_waits_for_a_thread_is_dropped_when_its_asker_leaves():
    gate = Gate()
    front = Front(gate, MOST)

    async def story():
        busy = [asyncio.create_task(Asker(f"/practice/{number}").ask(front)) for number in range(DESK_THREADS)]
        assert await asyncio.to_thread(gate.is_full.wait, PATIENCE)
        waiting = await Asker("/practice/reloaded", leaves_after=True).ask(front)
        gate.opened.set()
        await asyncio.gather(*busy)
        return waiting

    waiting = asyncio.run(story())
    assert front.end()
    assert waiting.answer == []
    assert sorted(gate.begun) == ["/practice/0", "/practice/1"]


def test_a_header_with_an_underscore_does_not_pass_for_one_with_a_hyphen():
    headers = [
        (b"x_forwarded_for", b"203.0.113.9"),
        (b"x-forwarded-for", b"192.0.2.7"),
        (b"cookie", b"a=1"),
        (b"cookie", b"b=2"),
    ]
    environ = environ_of(scope_of(headers=headers), BytesIO(), 0)
    assert environ["HTTP_X_FORWARDED_FOR"] == "192.0.2.7"
    assert environ["HTTP_COOKIE"] == "a=1; b=2"


def test_an_address_is_unquoted_to_the_bytes_that_were_meant():
    scope = {**scope_of(), "raw_path": b"/a%20b/%C3%A9%FF"}
    assert environ_of(scope, BytesIO(), 0)["PATH_INFO"].encode("latin-1") == b"/a b/\xc3\xa9\xff"

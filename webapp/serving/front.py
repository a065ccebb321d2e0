"""The step between the event loop, which talks to browsers, and the program, which runs in threads.

A thread gets a request when its body is whole, and returns its whole answer. So a thread never waits for a browser. The
desk's pages have threads of their own, so that a slow page of the desk keeps no phone waiting.
"""

import asyncio
from collections.abc import Awaitable, Callable, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from http import HTTPStatus
from tempfile import SpooledTemporaryFile
from typing import Any, BinaryIO, NamedTuple, cast

from webapp.serving.environ import Scope, environ_of

Message = dict[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Program = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]

DESK = "/practice"
PHONE_THREADS = 4
DESK_THREADS = 2
IN_MEMORY_BYTES = 64_000
"""A body longer than this is kept in a temporary file, so that many large bodies at once do not fill the memory."""


class Answer(NamedTuple):
    """The program's answer: status code, headers, whole body."""

    status: int
    headers: list[tuple[bytes, bytes]]
    body: bytes


class Front:
    """An ASGI application that runs a WSGI program in two groups of threads.

    Args:
        program: The WSGI application.
        most_bytes: The longest body that is read. Of a longer body the program sees only the length.
    """

    def __init__(self, program: Program, most_bytes: int) -> None:
        self._program, self._most_bytes = program, most_bytes
        self._phone = ThreadPoolExecutor(PHONE_THREADS, "phone")
        self._desk = ThreadPoolExecutor(DESK_THREADS, "desk")
        self._running: set[Future[Answer]] = set()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request; send nothing where the browser has left."""
        with SpooledTemporaryFile(IN_MEMORY_BYTES) as kept:
            body = cast("BinaryIO", kept)
            length = await self._gather(scope, receive, body)
            if length is None:
                return
            body.seek(0)
            work = self._start(scope, environ_of(scope, body, length))
            watched = receive if length <= self._most_bytes else None
            try:
                answer = await _outcome(work, watched)
            except asyncio.CancelledError:
                # The server stops and has waited long enough for this request. A phone retries later.
                answer = Answer(HTTPStatus.SERVICE_UNAVAILABLE, [(b"connection", b"close")], b"")
        if answer is not None:
            await send({"type": "http.response.start", "status": answer.status, "headers": answer.headers})
            await send({"type": "http.response.body", "body": answer.body})

    def end(self) -> bool:
        """Start no more requests; return whether all requests that had started are finished."""
        for pool in (self._phone, self._desk):
            pool.shutdown(wait=False, cancel_futures=True)
        return not self._running

    async def _gather(self, scope: Scope, receive: Receive, body: BinaryIO) -> int | None:
        """Read the body; return its length, or None where the browser left before its end."""
        length = _told_length(scope)
        if length > self._most_bytes:
            return length
        length = 0
        while length <= self._most_bytes:
            message = await receive()
            if message["type"] == "http.disconnect":
                return None
            length += body.write(message.get("body", b""))
            if not message.get("more_body"):
                break
        return length

    def _start(self, scope: Scope, environ: dict[str, Any]) -> Future[Answer]:
        path = scope["path"]
        pool = self._desk if path == DESK or path.startswith(f"{DESK}/") else self._phone
        work = pool.submit(_run, self._program, environ)
        self._running.add(work)
        work.add_done_callback(self._running.discard)
        return work


async def _outcome(work: Future[Answer], receive: Receive | None) -> Answer | None:
    """Wait for an answer; where the browser leaves before the work has started, cancel the work and return None."""
    answered = asyncio.wrap_future(work)
    left = None if receive is None else asyncio.ensure_future(receive())
    awaited: set[asyncio.Future[Any]] = {answered} if left is None else {answered, left}
    await asyncio.wait(awaited, return_when=asyncio.FIRST_COMPLETED)
    if left is None or left.cancel() or not work.cancel():
        return await answered
    return None


def _told_length(scope: Scope) -> int:
    return next((int(value) for name, value in scope["headers"] if name == b"content-length"), 0)


def _run(program: Program, environ: dict[str, Any]) -> Answer:
    """Run the program on one request, in a thread."""
    parts: list[bytes] = []
    start: tuple[str, list[tuple[str, str]]] = ("", [])

    def start_response(status: str, headers: list[tuple[str, str]], _fault: object = None) -> Callable[[bytes], None]:
        nonlocal start
        start = status, headers
        return parts.append

    answered = program(environ, start_response)
    try:
        parts.extend(answered)
    finally:
        getattr(answered, "close", lambda: None)()
    status, headers = start
    named = [(name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers]
    return Answer(int(status.partition(" ")[0]), named, b"".join(parts))

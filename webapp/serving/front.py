"""The step between the event loop, which talks to browsers, and the program, which runs in threads.

A thread gets a request when its body is whole, and returns its whole answer; a long one waits on the disk until it is
fetched, so that a file of all clients never fills the memory. So a thread never waits for a browser. The desk's pages have threads of their own, so that a slow page of the desk keeps no phone waiting.
"""

import asyncio
from collections.abc import Awaitable, Callable, Iterable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from http import HTTPStatus
from io import BytesIO
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
LONG_ANSWER_BYTES = 2_000_000
"""So is an answer that is longer than this."""
PIECE_BYTES = 256_000
FILES_AT_ONCE = 2
"""So many bodies of an address with a limit of its own are read at once; more of them wait, so that strangers cannot fill the disk."""


class Answer(NamedTuple):
    """The program's answer: status code, headers, whole body."""

    status: int
    headers: list[tuple[bytes, bytes]]
    body: BinaryIO


class Front:
    """An ASGI application that runs a WSGI program in two groups of threads.

    Args:
        program: The WSGI application.
        most_bytes: The longest body that is read. Of a longer body the program sees only the length.
        most_at: The longest body of single addresses, by path, where it is another.
    """

    def __init__(self, program: Program, most_bytes: int, most_at: Mapping[str, int] | None = None) -> None:
        self._program, self._most_bytes, self._most_at = program, most_bytes, most_at or {}
        self._files = asyncio.Semaphore(FILES_AT_ONCE)
        self._phone = ThreadPoolExecutor(PHONE_THREADS, "phone")
        self._desk = ThreadPoolExecutor(DESK_THREADS, "desk")
        self._running: set[Future[Answer]] = set()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request; send nothing where the browser has left."""
        most = self._most_of(scope)
        with SpooledTemporaryFile(IN_MEMORY_BYTES) as kept:
            body = cast("BinaryIO", kept)
            if most > self._most_bytes:
                async with self._files:
                    length = await _gather(scope, receive, body, most)
            else:
                length = await _gather(scope, receive, body, most)
            if length is None:
                return
            body.seek(0)
            work = self._start(scope, environ_of(scope, body, length))
            watched = receive if length <= most else None
            try:
                answer = await _outcome(work, watched)
            except asyncio.CancelledError:
                # The server stops and has waited long enough for this request. A phone retries later.
                work.add_done_callback(_let_go)
                answer = Answer(HTTPStatus.SERVICE_UNAVAILABLE, [(b"connection", b"close")], BytesIO())
        if answer is not None:
            await send({"type": "http.response.start", "status": answer.status, "headers": answer.headers})
            await _send_body(answer.body, send)

    def _most_of(self, scope: Scope) -> int:
        """Return the longest body that is read here. One of unsaid length gets no more than everywhere."""
        is_said = _told_length(scope) > 0
        return self._most_at.get(scope["path"], self._most_bytes) if is_said else self._most_bytes

    def end(self) -> bool:
        """Start no more requests; return whether all requests that had started are finished."""
        for pool in (self._phone, self._desk):
            pool.shutdown(wait=False, cancel_futures=True)
        return not self._running

    def _start(self, scope: Scope, environ: dict[str, Any]) -> Future[Answer]:
        path = scope["path"]
        pool = self._desk if path == DESK or path.startswith(f"{DESK}/") else self._phone
        work = pool.submit(_run, self._program, environ)
        self._running.add(work)
        work.add_done_callback(self._running.discard)
        return work


async def _gather(scope: Scope, receive: Receive, body: BinaryIO, most: int) -> int | None:
    """Read the body; return its length, or None where the browser left before its end."""
    length = _told_length(scope)
    if length > most:
        return length
    length = 0
    while length <= most:
        message = await receive()
        if message["type"] == "http.disconnect":
            return None
        length += body.write(message.get("body", b""))
        if not message.get("more_body"):
            break
    return length


def _let_go(work: Future[Answer]) -> None:
    """Close an answer that nobody fetches."""
    if not work.cancelled() and work.exception() is None:
        work.result().body.close()


async def _send_body(body: BinaryIO, send: Send) -> None:
    """Send a body piece by piece, each once the browser has room for it."""
    with body:
        body.seek(0)
        piece, is_more = body.read(PIECE_BYTES), True
        while is_more:
            following = body.read(PIECE_BYTES)
            is_more = bool(following)
            await send({"type": "http.response.body", "body": piece, "more_body": is_more})
            piece = following


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
    body = cast("BinaryIO", SpooledTemporaryFile(LONG_ANSWER_BYTES))  # noqa: SIM115 - who sends it closes it
    start: tuple[str, list[tuple[str, str]]] = ("", [])

    def start_response(status: str, headers: list[tuple[str, str]], _fault: object = None) -> Callable[[bytes], int]:
        nonlocal start
        start = status, headers
        return body.write

    answered: Iterable[bytes] = ()
    try:
        answered = program(environ, start_response)
        for part in answered:
            # Each by itself: `writelines` would fill the memory before it looks whether the file must go to the disk.
            body.write(part)
    except BaseException:
        body.close()
        raise
    finally:
        getattr(answered, "close", lambda: None)()
    status, headers = start
    named = [(name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers]
    return Answer(int(status.partition(" ")[0]), named, body)

"""One connection of a browser, with limits on how long we wait for it, and on the number of connections.

Knows HTTP/1.1 through uvicorn and h11 (h11 limits a request's head to 16 kB); nothing of the program.
"""

import asyncio
import socket
from typing import Any, ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol, RequestResponseCycle


class Connection(H11Protocol):
    """A connection that is closed when the browser takes too long. Waiting for a browser never occupies a thread.

    Attributes:
        quiet_seconds: The longest time without a byte while we wait for a request.
        request_seconds: The longest time from the last answer (or from connecting) to the last byte of a request.
        answer_seconds: The longest time in which the browser may fetch an answer, or a piece of a long one.
        most: The most connections. A further connection closes the connection that has kept us waiting longest.
    """

    quiet_seconds: ClassVar[float] = 20
    request_seconds: ClassVar[float] = 60
    answer_seconds: ClassVar[float] = 180
    most: ClassVar[int] = 2000

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.since = self.loop.time()
        self._timer: asyncio.TimerHandle | None = None
        self._fetching: asyncio.TimerHandle | None = None

    @property
    def request(self) -> RequestResponseCycle | None:
        """The newest request, or None before the first; the base class declares it without None."""
        return self.cycle

    @property
    def keeps_us_waiting(self) -> bool:
        """Whether we wait for the browser, and the browser does not wait for us."""
        request = self.request
        return request is None or request.response_complete or request.more_body

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override] # as in the base class
        """Begin to wait for a request; where there are too many connections, close another."""
        super().connection_made(transport)
        # An answer is sent in two writes, head and body. The second must not wait until the first is acknowledged.
        transport.get_extra_info("socket").setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._wait()
        if len(self.connections) > self.most:
            self._make_room()

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop waiting."""
        self._stop_waiting()
        self.resume_writing()
        super().connection_lost(exc)

    def pause_writing(self) -> None:
        """Give the browser so long to fetch what is on its way; only then comes the next piece of a long answer."""
        super().pause_writing()
        self._fetching = self.loop.call_later(self.answer_seconds, self.transport.abort)

    def resume_writing(self) -> None:
        """Stop the time of a piece: it was fetched."""
        if self._fetching is not None:
            self._fetching.cancel()
            self._fetching = None
        super().resume_writing()

    def data_received(self, data: bytes) -> None:
        """Receive bytes; restart the time without a byte, but not the time for the whole request."""
        super().data_received(data)
        self._wait()

    def on_response_complete(self) -> None:
        """Begin to wait for the next request."""
        self.since = self.loop.time()
        super().on_response_complete()
        self._wait()

    def shutdown(self) -> None:
        """Let an answer that has begun finish; drop a request that is not whole yet."""
        request = self.request
        if request is not None and request.more_body and not request.response_complete:
            self.transport.abort()
        else:
            super().shutdown()

    def _wait(self) -> None:
        self._stop_waiting()
        if self.keeps_us_waiting and self in self.connections:
            left = self.since + self.request_seconds - self.loop.time()
            self._timer = self.loop.call_later(max(0, min(self.quiet_seconds, left)), self._give_up)

    def _stop_waiting(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _give_up(self) -> None:
        """Close the connection; but where an answer is still being sent to a slow browser, a longer limit holds."""
        if self.transport.get_write_buffer_size() and self.loop.time() < self.since + self.answer_seconds:
            self._timer = self.loop.call_later(self.quiet_seconds, self._give_up)
        else:
            self.transport.abort()

    def _make_room(self) -> None:
        mine = [each for each in self.connections if isinstance(each, Connection) and each.keeps_us_waiting]
        min(mine, key=lambda each: each.since, default=self).transport.abort()

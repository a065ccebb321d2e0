"""One connection of a browser, with limits on how long it may keep us waiting and on how many there are.

Knows HTTP/1.1 through uvicorn and h11, which bounds a request's head at 16 kB; nothing of the program.
"""

import asyncio
import socket
from typing import Any, ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol, RequestResponseCycle


class Connection(H11Protocol):
    """A connection that is closed when it takes too long; none of the waiting holds a thread.

    Attributes:
        quiet_seconds: How long nothing may come while a request, or the next one, is awaited.
        request_seconds: How long a request may take from the last answer (or from connecting) to its last byte.
        answer_seconds: How long the browser may take to fetch an answer.
        most: How many connections there may be. One more closes the one that has kept us waiting longest.
    """

    quiet_seconds: ClassVar[float] = 20
    request_seconds: ClassVar[float] = 60
    answer_seconds: ClassVar[float] = 180
    most: ClassVar[int] = 2000

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.since = self.loop.time()
        self._timer: asyncio.TimerHandle | None = None

    @property
    def request(self) -> RequestResponseCycle | None:
        """The newest request, None before the first; the base class types it as always there."""
        return self.cycle

    @property
    def keeps_us_waiting(self) -> bool:
        """Whether we wait for the browser, rather than it for us."""
        asked = self.request
        return asked is None or asked.response_complete or asked.more_body

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override] # as in the base class
        """Begin to wait for a request; where there are too many of us, close another."""
        super().connection_made(transport)
        # Head and body of an answer go out in two writes; the second must not wait for the first to be acknowledged.
        transport.get_extra_info("socket").setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._wait()
        if len(self.connections) > self.most:
            self._make_room()

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop waiting."""
        self._stop_waiting()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take bytes; the quiet is over, the limit of the whole request stays."""
        super().data_received(data)
        self._wait()

    def on_response_complete(self) -> None:
        """Begin to wait for the next request."""
        self.since = self.loop.time()
        super().on_response_complete()
        self._wait()

    def shutdown(self) -> None:
        """Finish what is being answered; a request that is not whole yet is not waited for."""
        asked = self.request
        if asked is not None and asked.more_body and not asked.response_complete:
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
        """Close; but what is still on its way to a slow reader has its own, longer limit."""
        if self.transport.get_write_buffer_size() and self.loop.time() < self.since + self.answer_seconds:
            self._timer = self.loop.call_later(self.quiet_seconds, self._give_up)
        else:
            self.transport.abort()

    def _make_room(self) -> None:
        mine = [one for one in self.connections if isinstance(one, Connection) and one.keeps_us_waiting]
        min(mine, key=lambda one: one.since, default=self).transport.abort()

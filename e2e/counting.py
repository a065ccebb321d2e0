"""A wire between a browser and a server that hands every byte on and notes the first line of each request."""

import re
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from socketserver import BaseRequestHandler, ThreadingTCPServer

from e2e.server import HOST

# A browser sends no request before the answer to the one before it, so each begins a piece of its own.
REQUEST = re.compile(rb"([A-Z]+ \S+) HTTP/1\.1\r\n")
PIECE = 65_536


class Wire(ThreadingTCPServer):
    """Listens at one port and hands on to another; `asked` are methods and addresses in the order in which they came."""

    allow_reuse_address = daemon_threads = True

    def __init__(self, port: int, to: int) -> None:
        self.to, self.requests = to, []
        super().__init__((HOST, port), _Connection)


class _Connection(BaseRequestHandler):
    def handle(self) -> None:
        with suppress(OSError), socket.create_connection((HOST, self.server.to)) as server:
            back = threading.Thread(target=_hand_on, args=(server, self.request), daemon=True)
            back.start()
            while piece := self.request.recv(PIECE):
                if found := REQUEST.match(piece):
                    self.server.requests.append(found[1].decode())
                server.sendall(piece)


def _hand_on(source: socket.socket, target: socket.socket) -> None:
    with suppress(OSError):
        while piece := source.recv(PIECE):
            target.sendall(piece)
        target.shutdown(socket.SHUT_WR)


@contextmanager
def counting(port: int, to: int) -> Iterator[Wire]:
    """Hand on from one port to another for as long as it is needed."""
    with Wire(port, to) as wire:
        threading.Thread(target=wire.serve_forever, daemon=True).start()
        yield wire
        wire.shutdown()

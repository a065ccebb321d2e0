"""Browsers that misbehave, and one that does not: bytes in and out of a socket of our own."""

import http.client
import resource
import socket
from dataclasses import dataclass

PATIENCE = 30
"""Seconds after which an answer that has not come counts as none; a busy machine answers in far fewer."""


@dataclass(frozen=True)
class Told:
    """One answer: status, headers, body."""

    status: int
    headers: http.client.HTTPMessage
    body: bytes


class Line:
    """A connection to a server, spoken by hand."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.socket = socket.create_connection(("127.0.0.1", port), timeout=PATIENCE)

    def send(self, method: str, path: str, headers: dict[str, str] | None = None, body: bytes = b"") -> "Line":
        """Send a request, or the part of one that `headers` and `body` make of it."""
        lines = [f"{method} {path} HTTP/1.1", f"Host: 127.0.0.1:{self.port}"]
        lines += [f"{name}: {value}" for name, value in (headers or {}).items()]
        self.socket.sendall("\r\n".join([*lines, "", ""]).encode() + body)
        return self

    def read(self, method: str = "GET") -> Told:
        """Wait for the next answer."""
        answer = http.client.HTTPResponse(self.socket, method=method)
        answer.begin()
        return Told(answer.status, answer.headers, answer.read())

    def ask(self, path: str, method: str = "GET", headers: dict[str, str] | None = None, body: bytes = b"") -> Told:
        """Send a request and wait for its answer."""
        return self.send(method, path, headers, body).read(method)

    def begin(self, path: str) -> "Line":
        """Begin to send 5000 bytes, send one, and fall silent."""
        kind = "application/json" if path.startswith("/api/") else "application/x-www-form-urlencoded"
        return self.send(
            "POST", path, {"Sec-Fetch-Site": "same-origin", "Content-Type": kind, "Content-Length": "5000"}, b"x"
        )

    def is_closed_by_the_server(self) -> bool:
        """Wait until the server closes; false if it says something first, or nothing for long."""
        try:
            return self.socket.recv(1) == b""
        except ConnectionResetError:
            return True
        except TimeoutError:
            return False

    def close(self) -> None:
        self.socket.close()


def ask(port: int, path: str, method: str = "GET", headers: dict[str, str] | None = None, body: bytes = b"") -> Told:
    """Ask once, on a connection for this alone."""
    line = Line(port)
    try:
        return line.ask(path, method, headers, body)
    finally:
        line.close()


def allow_files(count: int) -> None:
    """Let this process hold so many connections."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (max(soft, count), hard))

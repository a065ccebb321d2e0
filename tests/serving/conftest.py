"""Connections to a server that are closed when the test ends."""

import pytest

from tests.serving.wire import Line


@pytest.fixture
def line():
    """Open a connection to a port; as many as a test likes."""
    opened = []

    def open_to(port):
        opened.append(Line(port))
        return opened[-1]

    yield open_to
    for each in opened:
        each.close()

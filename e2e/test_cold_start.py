"""The browser itself closed and started again with the server dead: the app is there, with everything that was entered."""

import pytest

from e2e.conftest import ARGS, chromium_path
from e2e.phone import Phone
from e2e.sizes import EACH_SIZE, phone_options
from tests.cast import BELL_FOUNDER


@pytest.fixture(params=EACH_SIZE)
def launch(request, engine, server, tmp_path):
    """Starts the browser on a profile that outlives it; what is open at the end is closed."""
    opened = []

    def start():
        context = engine.chromium.launch_persistent_context(
            tmp_path / "profile",
            executable_path=chromium_path(),
            args=list(ARGS),
            base_url=server.origin,
            **phone_options(*request.param),
        )
        opened.append(context)
        return context

    yield start
    for context in opened:
        context.close()


def test_the_app_starts_cold_on_a_dead_server_with_its_entries(launch, server, practice, evening):
    client = practice.enrol(BELL_FOUNDER)
    context = launch()
    phone = Phone.switched_on(context, evening)
    phone.join_by_link(client.token)
    server.kill()
    phone.do_session(worst=1)
    entries, standing = phone.log()["ids"], phone.standing()
    context.close()

    again = Phone.switched_on(launch(), evening)
    again.open()

    assert again.log()["ids"] == entries
    assert again.standing() == standing
    again.sleep_until_morning()
    again.report_morning(1)
    assert again.standing()["right"]["response"] == "partly"

    server.start()
    again.send()
    assert sorted(event["id"] for event in practice.log(client.id)) == sorted(again.log()["ids"])

"""The server as a process of its own, among people who do not do as told."""

import os
import re
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.builders import empty_records, hire
from tests.cast import HEDDA
from tests.serving.wire import allow_files, ask
from webapp.bench.served import free_port, serving

FORM = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    path = tmp_path_factory.mktemp("served") / "halfturn.db"
    db = empty_records(path)
    hire(db, HEDDA)
    db.conn.close()
    with serving(path) as running:
        yield running


def _signed_in(port):
    """The cookies of the practitioner."""
    door = ask(port, "/practice/sign-in")
    token = re.search(rb'name="csrf_token"[^>]*value="([^"]+)"', door.body)[1].decode()
    cookie = door.headers["Set-Cookie"].partition(";")[0]
    body = f"email={HEDDA.email}&password={HEDDA.password}&csrf_token={token}".encode()
    opened = ask(port, "/practice/sign-in", "POST", {**FORM, "Cookie": cookie, "Content-Length": str(len(body))}, body)
    assert opened.status in {302, 303}, opened.body
    return "; ".join(each.partition(";")[0] for each in [cookie, *opened.headers.get_all("Set-Cookie")])


def test_eight_strangers_who_never_finish_and_four_caseloads_keep_no_phone_waiting(server, line):
    cookie = _signed_in(server.port)
    for path in ("/api/join", "/practice/sign-in") * 4:
        line(server.port).begin(path)
    with ThreadPoolExecutor(4) as pool:
        desks = [pool.submit(ask, server.port, "/practice", "GET", {"Cookie": cookie}) for _ in range(4)]
        assert ask(server.port, "/app/en/").status == 200
        assert [desk.result().status for desk in desks] == [200] * 4


def test_a_thousand_and_a_hundred_silent_connections_do_not_stop_it(server, line):
    allow_files(2000)
    for _ in range(1100):
        line(server.port)
    assert ask(server.port, "/").status in {200, 302}


def test_a_body_that_is_too_long_is_refused_before_it_is_sent(server, line):
    sent = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/json", "Content-Length": "4000000"}
    answer = line(server.port).send("POST", "/api/join", sent).read("POST")
    assert (answer.status, b"too_large" in answer.body) == (413, True)


def test_a_body_in_chunks_that_grows_too_long_is_refused_in_words_too(server, line):
    sent = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/json", "Transfer-Encoding": "chunked"}
    chunk = b"61a80\r\n" + b"x" * 400_000 + b"\r\n"
    answer = line(server.port).send("POST", "/api/join", sent, chunk + b"1\r\nx\r\n0\r\n\r\n").read("POST")
    assert (answer.status, b"too_large" in answer.body) == (413, True)


def test_a_head_without_end_is_refused(server, line):
    asking = line(server.port)
    asking.socket.sendall(f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nX-Long: ".encode() + b"x" * 20_000)
    assert asking.read().status == 400


@pytest.mark.parametrize("path", ["/", "/app/en/", "/practice/sign-in", "/nothing-here"])
def test_head_is_answered_as_get_without_a_body(server, path):
    whole, head = ask(server.port, path), ask(server.port, path, "HEAD")
    assert (head.status, head.body) == (whole.status, b"")
    assert head.headers["Content-Length"] == whole.headers["Content-Length"]


def test_what_a_browser_has_already_is_not_sent_again(server, line):
    kept = line(server.port)
    tag = kept.ask("/app/en/").headers["ETag"]
    again = kept.ask("/app/en/", headers={"If-None-Match": tag})
    assert (again.status, again.body) == (304, b"")
    assert kept.ask("/app/en/").status == 200, "the connection goes on after an answer without a body"


@pytest.fixture
def settings(server, tmp_path):
    """An environment for a second server, apart in everything from the first."""
    return {
        **os.environ, "HALFTURN_ORIGIN": f"http://127.0.0.1:{free_port()}", "HALFTURN_DB": str(tmp_path / "other.db"),
    }  # fmt: skip


def _serve(environ):
    done = subprocess.run(
        [sys.executable, "-m", "webapp.cli", "serve"], env=environ, capture_output=True, text=True, timeout=120,
        check=False,
    )  # fmt: skip
    return done.returncode, done.stderr.strip()


def test_a_second_server_on_the_same_port_is_refused_in_one_sentence(server, settings):
    sentence = (
        f"Another program already listens on 127.0.0.1 port {server.port}."
        " End that program, or set another port in HALFTURN_LISTEN."
    )
    assert _serve({**settings, "HALFTURN_ORIGIN": server.origin}) == (2, sentence)


def test_a_second_server_of_the_same_database_is_refused_in_one_sentence(server, settings):
    path = server.log.with_suffix(".db")
    sentence = f"{path} is being served by another process already: end that one, or name another file in HALFTURN_DB."
    assert _serve({**settings, "HALFTURN_DB": str(path)}) == (2, sentence)


def test_an_address_of_another_machine_is_refused_in_one_sentence(settings):
    code, said = _serve({**settings, "HALFTURN_LISTEN": "192.0.2.1:8765"})
    assert (code, said.count("\n")) == (2, 0)
    assert said.startswith("Cannot listen on 192.0.2.1 port 8765 (")


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM], ids=["interrupt", "terminate"])
def test_it_ends_cleanly_though_people_hold_the_line(tmp_path, line, sign):
    empty_records(tmp_path / "halfturn.db").conn.close()
    with serving(tmp_path / "halfturn.db") as running:
        line(running.port).ask("/")
        line(running.port).begin("/api/join")
        running.process.send_signal(sign)
        assert running.process.wait(timeout=30) == 0
        said = running.log.read_text(encoding="utf-8").splitlines()
    assert said == [f"Halfturn is at {running.origin} and listens on 127.0.0.1 port {running.port}. Ctrl-C ends it."], (
        "no line about who asked for what"
    )


def test_an_origin_with_a_host_name_is_served_on_this_machine_for_a_proxy(tmp_path, line):
    port = free_port()
    settings = {"HALFTURN_LISTEN": f"127.0.0.1:{port}", "HALFTURN_ORIGIN": "https://wrist.example"}
    environ = {**os.environ, **settings, "HALFTURN_DB": str(tmp_path / "halfturn.db")}
    command = [sys.executable, "-u", "-m", "webapp.cli", "serve"]
    empty_records(tmp_path / "halfturn.db").conn.close()
    with subprocess.Popen(command, env=environ, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout.readline().startswith("Halfturn is at https://wrist.example and listens on 127.0.0.1")
            assert process.stdout.readline().startswith("Warning: HALFTURN_ORIGIN is https")
            answer = line(port).send("GET", "/app/en/").read()
            assert (answer.status, b"Open it at https://wrist.example" in answer.body) == (400, True)
        finally:
            process.terminate()

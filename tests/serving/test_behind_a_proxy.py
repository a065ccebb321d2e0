"""HTTPS in front: the recipes as printed, in a real Caddy and a real nginx, before a real server."""

import http.client
import os
import re
import shutil
import socket
import ssl
import subprocess
import sys
import time
from contextlib import contextmanager

import pytest

from tests.builders import empty_records
from tests.rules.tree import ROOT
from webapp.bench.served import free_port, serving
from webapp.config import read_settings
from webapp.serving.recipes import recipe

pytestmark = pytest.mark.long

PATIENCE = 60
sys.path.insert(0, str(ROOT / ".tools"))
from environment import SetupError, install_debian_packages, may_install_debian_packages  # noqa: E402


@pytest.fixture(scope="module", params=["caddy", "nginx"])
def proxy(request):
    """The name of a proxy that this machine has, or gets."""
    name = request.param
    if _found(name) is None:
        if not may_install_debian_packages():
            pytest.skip(f"this machine has no {name}, and only root on Debian may install it")
        try:
            install_debian_packages(name)
        except SetupError as lacking:
            pytest.skip(str(lacking))
    return name


def _found(name):
    return shutil.which(name) or shutil.which(name, path="/usr/sbin")


@pytest.fixture(scope="module")
def setting(proxy, tmp_path_factory):
    """The port of a practice at an https origin of this machine, served, with the proxy of the recipe before it."""
    folder = tmp_path_factory.mktemp(proxy)
    outer, inner = free_port(), free_port()
    origin = f"https://localhost:{outer}"
    settings = {"HALFTURN_ORIGIN": origin, "HALFTURN_LISTEN": f"127.0.0.1:{inner}", "HALFTURN_PROXIES": "1"}
    empty_records(folder / "halfturn.db").conn.close()
    begin = {"caddy": _caddy, "nginx": _nginx}[proxy]
    with serving(folder / "halfturn.db", **settings), begin(recipe(proxy, read_settings(settings)), folder):
        _wait_for(outer)
        yield outer


@contextmanager
def _caddy(text, folder):
    path = folder / "Caddyfile"
    aside = "{\n\tadmin off\n\tskip_install_trust\n\tauto_https disable_redirects\n}\n"
    path.write_text(aside + text, encoding="utf-8")
    environ = {**os.environ, "XDG_DATA_HOME": str(folder), "XDG_CONFIG_HOME": str(folder), "HOME": str(folder)}
    with _running([_found("caddy"), "run", "--config", str(path), "--adapter", "caddyfile"], folder, environ):
        yield


@contextmanager
def _nginx(text, folder):
    key, chain = folder / "privkey.pem", folder / "fullchain.pem"
    made = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-subj", "/CN=localhost", "-days", "2"]
    subprocess.run([*made, "-keyout", key, "-out", chain], check=True, capture_output=True, timeout=120)
    site = re.sub(r"/etc/letsencrypt/live/[^/]+/", f"{folder}/", text)
    site = re.sub(r"listen 80;", f"listen 127.0.0.1:{free_port()};", site)
    path = folder / "nginx.conf"
    temporary = "".join(
        f"{kind}_temp_path {folder}/{kind};\n" for kind in ("proxy", "client_body", "fastcgi", "uwsgi", "scgi")
    )
    path.write_text(
        f"daemon off;\nmaster_process off;\npid {folder}/nginx.pid;\nerror_log {folder}/error.log;\nevents {{}}\n"
        f"http {{\naccess_log off;\n{temporary}{site}}}\n",
        encoding="utf-8",
    )
    with _running([_found("nginx"), "-c", str(path), "-e", str(folder / "error.log")], folder, dict(os.environ)):
        yield


@contextmanager
def _running(command, folder, environ):
    with (folder / "proxy.log").open("wb") as log:
        process = subprocess.Popen(command, env=environ, stdout=log, stderr=log, stdin=subprocess.DEVNULL)
    try:
        yield
    finally:
        process.terminate()
        process.wait(timeout=PATIENCE)


def _wait_for(port):
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        try:
            if _ask(port, "/app/en/").status == 200:
                return
        except (OSError, http.client.HTTPException):
            socket.create_server(("127.0.0.1", 0)).close()
    raise AssertionError("the proxy does not answer")


def _ask(port, path, method="GET", headers=None, body=None):
    """Ask as a browser would that trusts this certificate."""
    trusting = ssl.create_default_context()
    trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE
    line = http.client.HTTPSConnection("localhost", port, context=trusting, timeout=PATIENCE)
    line.request(method, path, body, headers or {})
    answer = line.getresponse()
    answer.body = answer.read()
    line.close()
    return answer


def _guess(port, headers):
    sent = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/json", **headers}
    return _ask(port, "/api/join", "POST", sent, b'{"code": "22222222"}').status


def test_phones_and_desk_are_served_over_https(setting):
    page = _ask(setting, "/app/en/", headers={"Accept-Encoding": "br"})
    assert (page.status, page.headers["Content-Encoding"]) == (200, "br")
    assert "max-age" in page.headers["Strict-Transport-Security"]
    away = _ask(setting, "/practice")
    assert away.status in {302, 303}
    door = _ask(setting, "/practice/sign-in")
    assert (door.status, "Secure" in door.headers["Set-Cookie"]) == (200, True)


def test_a_body_that_is_too_long_is_refused_in_our_words(setting):
    sent = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/json"}
    answer = _ask(setting, "/api/join", "POST", sent, b"x" * 500_000)
    assert (answer.status, b"too_large" in answer.body) == (413, True)


def test_a_stranger_cannot_invent_an_address_and_guess_on(setting):
    invented = [
        {"X-Forwarded-For": f"192.0.2.{number}", "X_Forwarded_For": f"192.0.2.{number}"} for number in range(40)
    ]
    assert 429 in [_guess(setting, headers) for headers in invented]

"""The README's lines for serving do what they say, line by line, on a machine whose folders lie elsewhere."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.rules.tree import ROOT
from webapp.bench.served import free_port

PASSWORD = "a long evening of rain"


def _lines():
    section = (ROOT / "README.md").read_text(encoding="utf-8").partition("## Serving it\n")[2].partition("\n## ")[0]
    return re.findall(r"^    (.+)$", section, re.MULTILINE)


def _moved(text, elsewhere):
    """The lines with every folder of the machine moved under one of this test."""
    return re.sub(r"(?<![\w:/])/(?=srv|etc|mnt)", f"{elsewhere}/", text)


@pytest.mark.long
def test_the_readmes_lines_set_up_a_practice_and_the_unit_serves_it(tmp_path, line):
    (tmp_path / "etc/caddy").mkdir(parents=True)
    (tmp_path / "etc/systemd/system").mkdir(parents=True)
    (tmp_path / "mnt/backups").mkdir(parents=True)
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    script = _moved("\n".join(["set -eu", *_lines()]), tmp_path)
    typed = rf"echo '{PASSWORD}' | halfturn practitioner \1 --password-stdin"
    script, askers = re.subn(r"^halfturn practitioner (\w+)", typed, script, flags=re.MULTILINE)
    assert askers == 2
    script = re.sub(r"halfturn-\d{8}T[\d.]+Z\.copy", f'"$(ls {tmp_path}/mnt/backups)"', script)
    done = subprocess.run(
        ["bash", "-c", script], env={**os.environ, "PATH": path}, capture_output=True, text=True,
        timeout=120, check=False, cwd=tmp_path,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "srv/halfturn/halfturn.db").is_file()
    assert "https://wrist.example {" in (tmp_path / "etc/caddy/Caddyfile").read_text(encoding="utf-8")
    unit = (tmp_path / "etc/systemd/system/halfturn.service").read_text(encoding="utf-8")
    _serve_as(unit, line)


def _serve_as(unit, line):
    """Do what systemd would: set the environment, start the command, and end it."""
    set_in_unit = dict(re.findall(r'^Environment="(\w+)=(.*)"$', unit, re.MULTILINE))
    port = free_port()
    environ = {**os.environ, **set_in_unit, "HALFTURN_LISTEN": f"127.0.0.1:{port}"}
    program, *words = re.search(r'^ExecStart="(.+?)" (.+)$', unit, re.MULTILINE).groups()
    command = [program, *words[0].split()]
    with subprocess.Popen(command, env=environ, stdout=subprocess.PIPE, text=True, cwd=ROOT) as process:
        try:
            said = process.stdout.readline()
            assert said.startswith(f"Halfturn is at https://wrist.example and listens on 127.0.0.1 port {port}.")
            asking = line(port)
            asking.socket.sendall(b"GET /app/en/ HTTP/1.1\r\nHost: wrist.example\r\n\r\n")
            assert asking.read().status == 200
        finally:
            process.terminate()
        assert process.wait(timeout=30) == 0
        assert "Warning" not in process.stdout.read()

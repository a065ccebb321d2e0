"""What `halfturn serve` tells of itself, and the files that it prints for what stands in front."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from webapp import config
from webapp.cli import FAULTY, main
from webapp.serving.recipes import PROXIES, RECIPES
from webapp.words.serving import SETTINGS

SETTINGS_OF_A_PRACTICE = {
    "HALFTURN_DB": "/srv/halfturn/halfturn.db",
    "HALFTURN_ORIGIN": "https://wrist.example",
    "HALFTURN_PROXIES": "1",
}


def test_the_help_names_every_setting_with_its_meaning_its_default_and_an_example(capsys):
    with pytest.raises(SystemExit):
        main(["serve", "--help"])
    said = capsys.readouterr().out
    read = set(re.findall(r'"(HALFTURN_[A-Z]+)"', Path(config.__file__).read_text(encoding="utf-8")))
    assert read == set(SETTINGS)
    for name in read:
        entry = said.partition(f"  {name}\n")[2].partition("\n\n")[0]
        assert "left out: " in entry, name
        assert f"example: {name}=" in entry, name


@pytest.mark.parametrize("name", sorted(SETTINGS))
def test_the_example_of_a_setting_can_be_used(name):
    config.read_settings({name: SETTINGS[name].example})


def _printed(capsys, name, environ):
    assert main(["serve", "--recipe", name], environ) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("name", RECIPES)
def test_a_recipe_holds_the_settings_and_leaves_no_gap(capsys, name):
    text = _printed(capsys, name, SETTINGS_OF_A_PRACTICE)
    assert "https://wrist.example" in text
    assert "127.0.0.1:8765" in text
    assert not re.search(r"\$(?:\{|origin|host\b|port|listen|db|folder|prox|loc|python)", text)


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="this machine has no systemd-analyze")
def test_systemd_finds_no_fault_in_the_unit(capsys, tmp_path):
    unit = tmp_path / "halfturn.service"
    environ = {**SETTINGS_OF_A_PRACTICE, "HALFTURN_DB": str(tmp_path / "a % b.db")}
    unit.write_text(_printed(capsys, "systemd", environ), encoding="utf-8")
    found = subprocess.run(
        ["systemd-analyze", "verify", unit], capture_output=True, text=True, timeout=120, check=False
    )
    about_it = [line for line in (found.stdout + found.stderr).splitlines() if "halfturn.service" in line]
    assert (found.returncode, about_it) == (0, [])


def test_systemd_would_find_a_fault(tmp_path):
    if shutil.which("systemd-analyze") is None:
        pytest.skip("this machine has no systemd-analyze")
    unit = tmp_path / "halfturn.service"
    unit.write_text("[Service]\nExecStart=/nowhere/at/all serve\n", encoding="utf-8")
    found = subprocess.run(
        ["systemd-analyze", "verify", unit], capture_output=True, text=True, timeout=120, check=False
    )
    assert found.returncode != 0


@pytest.mark.parametrize("name", PROXIES)
def test_a_proxys_recipe_for_no_https_address_is_refused_and_says_what_to_set(capsys, name):
    assert main(["serve", "--recipe", name], {}) == FAULTY
    printed = capsys.readouterr()
    assert not printed.out
    assert "HALFTURN_ORIGIN=https://wrist.example" in printed.err

"""The diary's account and the ladder's table, on the demo's files."""

import itertools
import json

import pytest

from webapp.cli import main

FILES = ["--routine", "demo/routine.toml", "--client", "demo/client.toml"]
DIARY = [*FILES, "--diary", "demo/diary.csv", "--on", "2026-03-13"]


def told(capsys, *arguments):
    assert main(arguments) == 0
    return capsys.readouterr().out


def test_the_account_goes_on_from_state_to_state_and_ends_at_the_dose(capsys):
    account = json.loads(told(capsys, "explain", *DIARY, "--json"))
    day = json.loads(told(capsys, "dose", *DIARY, "--json"))
    for arm, days in account["arms"].items():
        assert all(one["state_after"] == two["state_before"] for one, two in itertools.pairwise(days))
        assert days[-1]["state_after"] == day["arms"][arm]["state"]
        assert days[-1]["reasons"] == day["arms"][arm]["reasons"]
        assert days[-1]["response"] == day["arms"][arm]["response_yesterday"]


def test_the_account_in_words_names_the_numbers_that_decided(capsys):
    text = told(capsys, "explain", *DIARY)
    assert "Flared: the next morning was rated 4 after 2" in text
    assert "[rest-and-ease]" in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_ladder_tells_each_rung_and_fits_the_terminal(capsys):
    text = told(capsys, "ladder", *FILES)
    ladder = json.loads(told(capsys, "ladder", *FILES, "--json"))
    assert max(map(len, text.splitlines())) <= 80
    assert sum(line.strip().split()[0].isdigit() for line in text.splitlines() if line.strip()) == len(ladder["rungs"])


@pytest.mark.parametrize(
    ("weights", "words"),
    [
        ("[0, 1.0]", "A weight of"),
        ("[0, 2.0]", "No single weight in between"),
        ("[0, 0.3, 4.9]", "is never used"),
    ],
)
def test_what_stands_in_the_way_is_named(capsys, tmp_path, weights, words):
    client = tmp_path / "client.toml"
    client.write_text(
        f'mass_kg = 80\nheight_m = 1.8\nsex = "male"\narms = ["right"]\nweights_kg = {weights}\nusual = 2\n'
    )
    text = " ".join(told(capsys, "ladder", "--routine", "demo/routine.toml", "--client", str(client)).split())
    assert words in text

"""`halfturn explain` and `halfturn ladder` on the files of the demo."""

import itertools
import json

import pytest

from webapp.cli import main

FILES = ["--routine", "demo/routine.toml", "--client", "demo/client.toml"]
DIARY = [*FILES, "--diary", "demo/diary.csv", "--on", "2026-03-13"]


def output_of(capsys, *arguments):
    assert main(arguments) == 0
    return capsys.readouterr().out


def test_the_account_goes_on_from_state_to_state_and_ends_at_the_dose(capsys):
    account = json.loads(output_of(capsys, "explain", *DIARY, "--json"))
    day = json.loads(output_of(capsys, "dose", *DIARY, "--json"))
    for arm, days in account["arms"].items():
        assert all(earlier["state_after"] == later["state_before"] for earlier, later in itertools.pairwise(days))
        assert days[-1]["state_after"] == day["arms"][arm]["state"]
        assert days[-1]["reasons"] == day["arms"][arm]["reasons"]
        assert days[-1]["response"] == day["arms"][arm]["response_yesterday"]


def test_the_account_in_words_names_the_numbers_that_decided(capsys):
    text = output_of(capsys, "explain", *DIARY)
    for words in (
        "Tender: the next morning was rated 3, over 2. The arm is sore.",
        "Partly: all was calm, but in some direction less than 80 per cent was done.",
        "Aching: the session was rated 4, over 3, and the next morning was calm.",
        "Number missing: a session, and no report the next morning.",
        "Flared: the session was rated 6; 6 and over counts as flared.",
        "[first-week-together]",
        "[rest-and-ease]",
    ):
        assert words in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 80


def explained(capsys, tmp_path, rows):
    """Return the account of the demo's right arm, in one line, for a diary with these cells from 2 March on."""
    days = (f"2026-03-{number:02d},right,{cells}\n" for number, cells in enumerate(rows, 2))
    diary = tmp_path / "diary.csv"
    diary.write_text("on,arm,sessions,during,morning,sharp,done,release\n" + "".join(days), encoding="utf-8")
    on = f"2026-03-{len(rows) + 2:02d}"
    return " ".join(output_of(capsys, "explain", *FILES, "--diary", str(diary), "--on", on).split())


def test_a_flare_by_creeping_mornings_names_the_lowest_of_the_three(capsys, tmp_path):
    text = explained(capsys, tmp_path, ["2,1,1,,,", "2,1,2,,,", "2,1,3,,,"])
    assert (
        "Flared: the next morning was rated 3, and the lowest known of the three mornings before was 1: a rise of 2 or more"
        in text
    )


def test_a_session_on_a_day_of_rest_says_that_none_was_asked(capsys, tmp_path):
    text = explained(capsys, tmp_path, ["2,6,2,,,", "1,1,2,,,"])
    assert "Asked: nothing. Partly: all was calm; a session on a day that asks for none counts as done in part." in text
    assert "day 1 of rest" in text


def test_a_release_says_who_chose_and_how_many_settled_days_are_owed(capsys, tmp_path):
    text = explained(capsys, tmp_path, ["1,2,,yes,,", ",,1,,,2@0.75", "1,1,1,,,"])
    assert "Your practitioner has released this arm and chosen where it starts again. [released]" in text
    assert "After: rung 2 of 15, three quarters of the range, 7 settled days still needed after the stop" in text
    assert "6 settled days still needed after the stop" in text


def test_the_ladder_tells_each_rung_and_fits_the_terminal(capsys):
    text = output_of(capsys, "ladder", *FILES)
    ladder = json.loads(output_of(capsys, "ladder", *FILES, "--json"))
    assert max(map(len, text.splitlines())) <= 80
    assert sum(line.strip().split()[0].isdigit() for line in text.splitlines() if line.strip()) == len(ladder["rungs"])


@pytest.mark.parametrize(
    ("weights", "words"),
    [
        ("[0, 1.0]", "A weight of"),
        ("[0, 2.0]", "No single weight in between"),
        ("[0, 0.3, 4.9]", "is never used"),
        ("[0, 0.3, 4.9]", "its heaviest moment is over 35.0 % of estimated strength"),
        ("[0]", "First week: sessions a day × reps/sides"),
    ],
)
def test_what_stands_in_the_way_is_named(capsys, tmp_path, weights, words):
    client = tmp_path / "client.toml"
    client.write_text(
        f'mass_kg = 80\nheight_m = 1.8\nsex = "male"\narms = ["right"]\nweights_kg = {weights}\nusual = 2\n'
    )
    text = " ".join(output_of(capsys, "ladder", "--routine", "demo/routine.toml", "--client", str(client)).split())
    assert words in text


def test_a_flare_with_no_morning_before_names_the_usual_one(capsys, tmp_path):
    text = explained(capsys, tmp_path, ["2,1,4,,,"])
    assert "Flared: the next morning was rated 4, over the usual 2 by 2 or more; no earlier morning is known." in text

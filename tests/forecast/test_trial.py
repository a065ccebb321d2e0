"""The trial sums up what its runs were, and holds every figure against its limit."""

import json
from functools import cache

import pytest

from tests.forecast.people import plan
from webapp.forecast.figures import KINDS
from webapp.forecast.populations import POPULATIONS
from webapp.forecast.question import Goal, Question
from webapp.forecast.report import TRIAL
from webapp.forecast.trial.rows import RUNS
from webapp.forecast.trial.statements import STATEMENTS, checked
from webapp.forecast.trial.table import trial_text
from webapp.words import pseudo_words, words_for

ASKED = Question(weeks=10, clients=40, seed=4, goal=Goal())
HEARD = []


@cache
def answer():
    return TRIAL.work_out(plan(), ASKED, words_for(), lambda: HEARD.append(1))


def _row(population, kind):
    return next(row for row in answer()["rows"] if (row["population"], row["kind"]) == (population, kind))


def test_every_population_and_kind_has_a_row_in_their_order():
    expected = [(population.id, kind.id) for population in POPULATIONS for kind in KINDS]
    assert [(row["population"], row["kind"]) for row in answer()["rows"]] == expected
    assert all(f"{run}.flare_days" in row for row in answer()["rows"] for run in RUNS)


def test_the_ticks_of_a_trial_are_those_counted_ahead():
    answer()
    assert len(HEARD) == TRIAL.ticks(ASKED)


def test_a_trial_is_plain_json_and_names_its_seeds():
    assert json.loads(json.dumps(answer(), allow_nan=False)) == answer()
    assert answer()["seeds"] == [4, 5, 6]


def test_paper_hears_no_reports_and_our_rules_do():
    # Not told apart but for who stops for a very bad day: paper asks the same whatever is reported.
    for kind in ("fragile", "middling", "robust"):
        ordinary, silent = _row("ordinary", kind), _row("rates-nothing", kind)
        assert ordinary["paper.flare_days"] == silent["paper.flare_days"]
        assert silent["ours.standing_still"] == 1
    assert _row("under-reporters", "fragile")["ours.flare_days"] > _row("ordinary", "fragile")["ours.flare_days"]


def test_the_practitioner_who_acts_leaves_fewer_of_the_aching_standing_still():
    for kind in ("fragile", "middling", "robust"):
        row = _row("aching", kind)
        assert row["ours.standing_still"] == 1
        assert row["acting.standing_still"] < 0.5


def _rows(figure, limit_of_paper):
    numbers = {
        "ours.flare_days": figure, "paper.flare_days": limit_of_paper, "acting.standing_still": figure,
    }  # fmt: skip
    return [{"population": population.id, "kind": kind.id} | numbers for population in POPULATIONS for kind in KINDS]


def test_a_limit_holds_only_where_every_seed_keeps_it():
    assert all(check["holds"] for check in checked([_rows(0.05, 1.0)] * 3))
    one_bad = checked([_rows(0.05, 1.0), _rows(9.0, 1.0), _rows(0.05, 1.0)])
    assert not any(check["holds"] for check in one_bad)
    assert len(one_bad) == sum(len(statement.kinds) for statement in STATEMENTS) == 15


@pytest.mark.parametrize(
    ("population", "kind", "limit"),
    [
        ("ordinary", "fragile", 0.8),
        ("ordinary", "robust", 0.2),
        ("under-reporters", "fragile", 4.0),
        ("under-reporters", "middling", 12.0),
        ("far-too-low", "robust", 0.4),
        ("aching", "middling", 0.1),
    ],
)
def test_the_limits_are_those_written_down(population, kind, limit):
    checks = checked([_rows(0.0, 8.0)])
    check = next(each for each in checks if (each["population"], each["kind"]) == (population, kind))
    assert check["by_seed"][0]["limit"] == pytest.approx(limit)


def test_under_reporters_may_have_half_a_flare_day_where_paper_has_none():
    check = next(
        each
        for each in checked([_rows(0.0, 0.0)])
        if each["kind"] == "robust" and each["population"] == "under-reporters"
    )
    assert check["by_seed"][0]["limit"] == 0.5


def test_the_table_is_markdown_with_a_line_for_each_population():
    lines = [line for line in trial_text(words_for(), answer()).splitlines() if line.startswith("| ")]
    assert len(lines) == 2 + len(POPULATIONS)
    assert len({line.count("|") for line in lines}) == 1
    assert all(line.count(" / ") == 2 * (line.count("|") - 2) for line in lines[2:])


def test_every_word_of_the_table_comes_from_the_catalogue():
    text = trial_text(pseudo_words(), answer())
    cells = [cell.strip() for line in text.splitlines() if line.startswith("| ") for cell in line.strip("|").split("|")]
    lettered = [cell for cell in cells if any(letter.isalpha() for letter in cell)]
    assert lettered
    assert all("[" in cell for cell in lettered)

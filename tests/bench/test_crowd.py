"""The crowd of the bench is there while it is measured. Nothing here compares a time."""

import json

from webapp.bench.crowd import DESKS, bench_crowd
from webapp.words import words_for


def test_the_answer_is_plain_json_with_a_floor_and_a_desk_that_was_really_busy():
    figures = bench_crowd(words_for(), rounds=20)
    assert json.loads(json.dumps(figures)) == figures
    assert figures["nobody_else"]["times_the_floor"] == 1
    assert figures["and_four_desk_pages_at_a_time"]["desk_pages_loaded"] >= DESKS
    assert {"median_ms", "longest_ms", "times_the_floor"} <= set(figures["eight_unfinished_bodies"])

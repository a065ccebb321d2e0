"""The server's figures are complete and plain. Nothing here compares a time with a time."""

import json

from webapp.bench.full_practice import full_practice
from webapp.bench.server import bench_server, beside, timed
from webapp.practice.caseload.lines import caseload_of
from webapp.records import events
from webapp.words import words_for


def test_a_piece_of_work_is_prepared_each_time_and_warmed_up_once():
    figures = []
    took = timed(lambda: figures.append("work"), 2, lambda: figures.append("before"))
    assert figures == ["before", "work"] * 3
    assert set(took) == {"processor_ms", "wall_ms", "longest_wall_ms"}


def test_a_floor_is_a_share_of_what_stands_beside_it():
    figures = beside({"processor_ms": 8.0, "wall_ms": 10.0}, {"processor_ms": 2.0, "wall_ms": 5.0})
    assert (figures["times_the_floor"], figures["floor_by_this"], figures["wall_floor_by_this"]) == (4.0, 0.25, 0.5)


def test_the_practice_that_is_measured_is_one_in_training():
    with full_practice(2, 20) as practice:
        shown = caseload_of(practice.db, 1, practice.now).lines
        assert [(len(line.standings), line.silent_days) for line in shown] == [(2, 0)] * 2
        assert {line.day for line in shown} == {21}
        practice.join(1).sync(practice.new_events(3))
        assert events.newest_seq(practice.db, practice.clients[1][0]) == events.newest_seq(practice.db, 1) + 3


def test_the_whole_answer_is_plain_json_with_a_floor_beside_every_figure():
    figures = bench_server(words_for(), clients=2, days=10, rounds=1, case_days=(5,))
    assert json.loads(json.dumps(figures)) == figures
    measured = {name: row for name, row in figures.items() if isinstance(row, dict)}
    assert len([row for row in measured.values() if "times_the_floor" in row]) == len(measured) - 3
    assert {
        "caseload",
        "caseload_first_look_of_a_day",
        "empty_sync",
        "case_page_5_days",
        "sync_on_a_way_back_after_5_days",
    } <= set(measured)

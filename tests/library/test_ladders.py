"""The return ladders of the content: as the facts have them, within what the rules allow, and with every fault told."""

from itertools import pairwise

import pytest

from webapp.config import content_dir
from webapp.library.faults import NotAcceptedError
from webapp.library.ladders import open_ladders, the_ladders


def weeks_of(name):
    return [step.days_a_week * step.minutes for step in the_ladders()[name].ladder.steps]


def test_the_ladders_are_those_of_the_facts():
    # Minutes a week: clinic/return.md, our own choice throughout.
    assert weeks_of("racket") == [20, 30, 45, 60, 75, 90, 120, 135, 180]
    assert weeks_of("hard_grip") == [10, 15, 24, 36, 45, 60, 90]
    assert [step.minutes for step in the_ladders()["golf"].ladder.steps[:7]] == [15, 20, 25, 30, 35, 40, 45]


def test_a_week_of_the_racket_ladder_grows_by_at_most_a_half_and_from_the_fourth_step_by_a_third():
    grown = [later / earlier for earlier, later in pairwise(weeks_of("racket"))]
    assert all(rise <= 1.5 for rise in grown[:3])
    assert all(rise <= 4 / 3 for rise in grown[3:])


@pytest.mark.parametrize("page", the_ladders().values(), ids=lambda page: page.ladder.id)
def test_a_ladder_says_that_its_numbers_are_our_own_choice(page):
    assert "own-choice" in {source.mark for source in page.sources}
    assert page.caution.startswith("Sharp pain ends")


def test_no_step_asks_for_less_time_than_the_one_before():
    for page in the_ladders().values():
        assert [step.minutes for step in page.ladder.steps] == sorted(step.minutes for step in page.ladder.steps)


FAULTY = """
[[ladder]]
id = "bells"
name = "Bells"
text = "Pulls."
caution = ""
strokes = "pulls"
sources = ["nobody"]
[[ladder.step]]
days_a_week = 4
minutes = 0
adds = "All."
[[ladder]]
id = "bells"
name = "Bells"
text = "Pulls."
caution = "Stop."
strokes = "pulls"
sources = ["own-choice"]
"""


def test_all_faults_of_the_file_are_told_together(tmp_path):
    (tmp_path / "ladders.toml").write_text(FAULTY)
    with pytest.raises(NotAcceptedError) as refused:
        open_ladders(tmp_path)
    assert {(fault.key, fault.code) for fault in refused.value.faults} == {
        ("ladder[1].caution", "not_a_text"),
        ("ladder[1].sources", "not_a_source"),
        ("ladder[1].step[1].days_a_week", "out_of_range"),
        ("ladder[1].step[1].minutes", "out_of_range"),
        ("ladder[2].step", "missing_key"),
        ("ladder[2].id", "twice"),
    }


def test_the_file_of_this_installation_is_read_once():
    assert open_ladders(content_dir()) is the_ladders()

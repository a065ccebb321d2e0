"""The plots on the case page: four weeks or twelve, a sentence for those who do not see them, a table beside."""

import re

import pytest

from tests.builders import days_of
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.founder.public_id}"


def test_a_plot_is_told_in_one_sentence(site, hedda, path):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2), (3, 6), (1, 1)]))
    page = hedda.open(path).text
    (sentence,) = re.findall(r'aria-label="([^"]*)" role="img"', page)
    assert (
        "Right arm, Tue 24 Feb 2026 to Mon 9 Mar 2026: 3 mornings told, from 1 to 6; 1 of them 6 or more;" in sentence
    )


def test_the_table_has_a_row_for_each_day_that_is_drawn(site, hedda, path):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2)]))
    page = hedda.open(path).text
    table = page[page.index("course-table") : page.index("</table>", page.index("course-table"))]
    assert table.count('<th scope="row">') == 14


def test_twelve_weeks_are_a_link_away(site, hedda, path):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2)]))
    assert 'weeks=12#plots"' in hedda.open(path).text
    assert "Twelve weeks" in hedda.open(f"{path}?weeks=12").text
    assert "Four weeks" in hedda.open(f"{path}?weeks=nonsense").text


def test_a_held_arm_shows_its_hold(site, hedda):
    hold_cellist(site)
    assert 'class="course-patch-held"' in hedda.open(f"/practice/cases/{site.cellist.public_id}").text


def test_a_client_without_a_routine_has_no_plot(hedda, path):
    assert "part-plots" not in hedda.open(path).text

"""Own movements on the printed sheet: named, drawn with their own arc, told in a line, with their cautions."""

import re

from tests.cast import BELL_FOUNDER
from tests.own_movements import routine_with_own
from webapp.records import routines


def test_the_sheet_names_draws_and_tells_them(site, hedda):
    routines.push(site.db, site.founder.id, routine_with_own(), BELL_FOUNDER.settings, "", site.hedda.id, site.clock())
    hedda.open(f"/practice/cases/{site.founder.public_id}/sheet")
    roll = re.search(r'<li><span[^>]*data-movement="palm_down"[^>]*>.*?</li>', hedda.page.text, re.DOTALL)[0]
    assert 'data-up="40"' in roll
    assert 'data-down="20"' in roll
    wall = re.search(r'<li><span[^>]*data-movement="stretch_palm_up_soft"[^>]*>.*?</li>', hedda.page.text, re.DOTALL)[0]
    assert "Palm down over a roll" in roll
    assert "Palm at the wall" in wall
    for text in (
        "Palm down over a roll: Lay the forearm on a rolled towel. Count 2 up and 5 down.",
        "Leave it out while the roll presses on the sore point.",
        "Leave this stretch out while the ring finger",
    ):
        assert text in hedda.text

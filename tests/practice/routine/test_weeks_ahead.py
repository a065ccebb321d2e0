"""The weeks ahead on the routine desk: asked for beside the preview, now and after, with a caveat; and the drawn ladder."""

import re
import subprocess
import sys
from dataclasses import replace

import pytest

from tests import builders
from tests.cast import FIRST_DAY
from webapp.dosing.plan import make_plan
from webapp.dosing.settings import Body, Client, Routine
from webapp.forecast.ahead import Band
from webapp.practice.routine.ladder_plot import ladder_plots
from webapp.practice.routine.weeks_ahead import courses_of, forecasts
from webapp.practice.routine.weeks_plot import weeks_plots

DESK = "/practice/cases/ansgar0001/routine"
CALM_WEEK = [(2, 1)] * 7
POUNDS = tuple(0.45359237 * pounds for pounds in range(4))
CHANGED = {"goal_reps": "15", "start_rung_right": "1"}


def _weeks(hedda, **changes):
    hedda.open(DESK)
    return hedda.fill("/routine", {"step": "weeks", **changes}, post_to=DESK)


def _plan():
    return make_plan(Routine("Nets", "outer_elbow"), Client(Body(70, 1.75, "male"), ("right",), POUNDS, 1))


def _points(path):
    return [tuple(map(float, point.split())) for point in re.findall(r"[\d.]+ [\d.]+", path)]


def test_the_weeks_ahead_are_worked_out_when_asked_for_and_push_nothing(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    hedda.open(DESK)
    assert "Work out the weeks ahead" in hedda.text
    _weeks(hedda, **CHANGED)
    for said in (
        "A simulation on invented clients, not a promise.",
        "most like this one's on the last 7 days",
        "version 1, if nothing changes",
        "… if you take up what the review offers",
    ):
        assert said in hedda.text
    assert hedda.page.text.count("sketch-band-now") == 2, "wide and narrow"
    assert "Push version 2" in hedda.text


def test_before_the_first_day_the_invented_clients_are_of_every_kind(hedda):
    _weeks(hedda)
    assert "No day is known yet" in hedda.text
    assert "sketch-band-now" not in hedda.page.text, "nothing differs, so there is one band"


def test_each_arm_has_weeks_of_its_own():
    new = make_plan(Routine("Nets", "outer_elbow"), replace(_plan().client, arms=("right", "left")))
    assert [forecast.arm for forecast in forecasts(courses_of([], None, new))] == ["right", "left"]


def test_a_band_lies_between_its_bounds_and_the_middle_inside_it():
    wide, _ = weeks_plots([Band(10, 20, 30), Band(12, 24, 60)], [])
    points = _points(wide.after.band)
    high, low = points[:2], points[:1:-1]
    middle = _points(wide.after.middle)
    assert all(up[1] < between[1] < down[1] for up, between, down in zip(high, middle, low, strict=True))
    assert wide.base - high[1][1] == pytest.approx(2 * (wide.base - high[0][1]), abs=0.2)
    assert wide.now.band == ""


def test_a_step_is_as_high_as_its_work_and_flags_stand_on_their_rungs():
    old, new = _plan(), _plan()
    wide, narrow = ladder_plots(old, new, courses_of([], None, new))
    heights = [wide.base - step.y for step in wide.steps]
    works = [rung.work_j for rung in new.ladder.rungs]
    assert [height / heights[0] for height in heights] == pytest.approx([work / works[0] for work in works], rel=0.02)
    assert [flag.kind for flag in wide.flags] == ["begins"]
    assert wide.flags[0].foot == wide.steps[wide.flags[0].rung - 1].y
    assert wide.was == "", "the same ladder is not drawn twice"
    assert (wide.width, narrow.width) == (720, 340)


def test_without_its_arrays_the_desk_says_that_this_server_cannot_forecast():
    script = (
        "import sys; sys.modules['numpy'] = None\n"
        "from webapp.dosing.plan import make_plan\n"
        "from webapp.dosing.settings import Body, Client, Routine\n"
        "from webapp.practice.routine.weeks_ahead import courses_of, forecasts\n"
        "plan = make_plan(Routine('Nets', 'outer_elbow'), Client(Body(70, 1.75, 'male'), ('right',), (0.0, 0.5), 1))\n"
        "print(forecasts(courses_of([], None, plan)))"
    )
    done = subprocess.run([sys.executable, "-c", script], check=True, capture_output=True, text=True)
    assert done.stdout == "None\n"

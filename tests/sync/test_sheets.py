"""What a printed sheet asks: as the arm stands, under the version it shows; and what its second week counts for."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.builders import days_of, morning, release, session
from tests.cast import FIRST_DAY, NOW
from webapp.dosing.dose import dose
from webapp.dosing.mornings import RatingBand, paper_rules
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.release import Return
from webapp.dosing.responses import ENOUGH, RATINGS, classify
from webapp.dosing.state import MOST_EASE
from webapp.events.course_set import SetCourse
from webapp.records import routines
from webapp.sync.bundle.plans import plan_of
from webapp.sync.case import finishing
from webapp.sync.folding.fold import accounts_of
from webapp.sync.from_paper import handing_out, typing_in
from webapp.sync.from_paper.sheets import arms_on_paper, default_first
from webapp.sync.from_paper.typed_days import Said
from webapp.sync.from_paper.typing_in import OnPaper

TODAY = FIRST_DAY + timedelta(days=3)
TOMORROW = TODAY + timedelta(days=1)


@pytest.fixture
def out(db, ansgar):
    """The bell founder, to whom the routine was handed out on paper on the first day."""
    assert handing_out.hand_out(db, ansgar.id, 1, FIRST_DAY, asked_signs=True, now=NOW)
    return ansgar


def _sheet(db, client, today=TODAY, first=None):
    (arm,) = arms_on_paper(db, client.id, routines.latest(db, client.id), today, first or today)
    return arm


def _set_course(db, client, to, *, days=0, on=TODAY, until=None):
    seal = finishing.seal(finishing.courses_of(db, client.id))
    finishing.set_course(db, client.id, SetCourse(to, days, on, "So agreed.", "Hedda", until=until), seal, now=NOW)


def test_before_the_first_day_the_sheet_shows_the_first_dose(db, ansgar):
    plan = plan_of(routines.latest(db, ansgar.id))
    assert _sheet(db, ansgar, FIRST_DAY).dose == dose(plan, start_state(plan, "right"))


@pytest.mark.parametrize("worst", [8, 9])
def test_a_held_arm_is_asked_for_nothing_until_it_is_released(db, out, send, worst):
    send(out, *days_of(FIRST_DAY, [(1, 1), (worst, 1)]))
    assert (_sheet(db, out).asks, _sheet(db, out).dose.sets) == ("held", ())
    release(db, out.id, "right", Return(1, 1), TODAY)
    assert _sheet(db, out).asks == "training"


def test_sharp_pain_of_today_holds_the_sheet_of_tomorrow(db, out, send):
    send(out, session(TODAY, 2, sharp=True))
    assert _sheet(db, out, first=TOMORROW).asks == "held"


def test_after_a_flare_the_sheet_says_rest(db, out, send):
    send(out, *days_of(FIRST_DAY, [(1, 1), (1, 1), (1, 6)]))
    assert (_sheet(db, out).asks, _sheet(db, out).dose.sets) == ("resting", ())


def test_what_the_practice_has_set_counts_from_its_day(db, out):
    _set_course(db, out, "ended", on=TOMORROW)
    assert (_sheet(db, out).asks, _sheet(db, out, first=TOMORROW).asks) == ("training", "ended")
    _set_course(db, out, "maintenance", days=3, on=TOMORROW)
    assert (_sheet(db, out, first=TOMORROW).asks, _sheet(db, out, first=TOMORROW).course.days_a_week) == ("training", 3)
    _set_course(db, out, "rest", on=TOMORROW, until=TOMORROW + timedelta(days=5))
    assert _sheet(db, out, first=TOMORROW).asks == "rest"
    assert _sheet(db, out, first=TOMORROW + timedelta(days=5)).asks == "training"


def test_a_version_that_nobody_has_yet_is_shown_as_it_would_be(db, out):
    first = routines.latest(db, out.id)
    routines.push(db, out.id, {**first.routine, "stretches": []}, first.settings, "", 1, NOW)
    account = accounts_of(db, out.id, TODAY)["right"]
    assert len(dose(account.plan, account.state).holds) == 2
    assert _sheet(db, out).dose.holds == ()


def test_a_sheet_begins_today_or_tomorrow_once_today_has_a_session(db, out, send):
    send(out, morning(TODAY, 1, seq=70))
    assert default_first(db, out.id, TODAY) == TODAY
    send(out, session(TODAY, 1, seq=71))
    assert default_first(db, out.id, TODAY) == TOMORROW


@pytest.mark.parametrize("usual", range(6))
def test_the_bands_of_a_sheet_are_those_of_the_core(db, ansgar, usual):
    fitted = plan_of(routines.latest(db, ansgar.id))
    client = replace(fitted.client, usual=usual, clinician_seen=usual > 3)
    plan = make_plan(fitted.routine, client)
    settled = start_state(plan, "right")
    rules = paper_rules(plan, settled)
    for found, is_morning in ((rules.mornings, True), (rules.sessions, False)):
        assert [rating for band in found for rating in range(band.low, band.high + 1)] == list(RATINGS)
        for band in found:
            for rating in range(band.low, band.high + 1):
                cell = (0, rating, rating) if is_morning else (rating, 0, 0)
                # Whether tender is a little or far over, the sheet says the same.
                assert classify(ENOUGH, *cell, usual, plan.tuning).removesuffix("_over") == band.response
    # Four or more, and three over the usual one, is a flare: at a usual morning of 0 or 1 from 4 on, at 2 from 5 on, else from 6 on.
    flared_from = {0: 4, 1: 4, 2: 5}.get(usual, 6)
    assert next(band for band in rules.mornings if band.response == "flared") == RatingBand(flared_from, 7, "flared")
    assert paper_rules(plan, settled).eased == 0.75
    assert paper_rules(plan, settled._replace(ease=1)).eased == 0.5
    assert paper_rules(plan, settled._replace(ease=MOST_EASE)).eased is None


def _whole_week(first):
    return {first + timedelta(days=count): {"right": Said(1, 1, 100)} for count in range(7)}


def test_the_second_week_of_a_sheet_counts_as_what_the_sheet_asked(db, out):
    who, weeks = (out.id, out.public_id), [FIRST_DAY + timedelta(days=7 * count) for count in range(4)]
    for first in weeks[:2]:
        typing_in.type_in(db, who, OnPaper(_whole_week(first)), "Hedda", NOW, sheet_on=first)
    second = OnPaper(_whole_week(weeks[2]), weighed_on=weeks[2])
    typing_in.type_in(db, who, second, "Hedda", NOW, sheet_on=weeks[1])
    account = accounts_of(db, out.id, weeks[3])["right"]
    days = {each.on: each for each in account.days}
    assert days[weeks[2]].dose.work_j > 1.25 * days[weeks[1]].dose.work_j
    assert {account.facts[on].done for on in _whole_week(weeks[2])} == {"part"}
    assert account.state.rung == days[weeks[2]].state_before.rung

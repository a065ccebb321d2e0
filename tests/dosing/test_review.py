"""The review against one golden file for each finding; its limits are our own and published ones (see `FINDINGS`)."""

from datetime import timedelta

import pytest

from tests.dosing.spread import plan_for
from tests.vectors.reviews import COURSES, FOLDER, START, day, found, idle, text_of
from webapp.dosing import figures
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.findings.arm_course import ArmCourse
from webapp.dosing.plan import start_state
from webapp.dosing.review import FINDINGS, review


@pytest.mark.parametrize("name", COURSES)
def test_each_course_gives_just_what_its_golden_file_says(name):
    assert text_of(name) == (FOLDER / f"{name}.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("watch", FINDINGS, ids=lambda watch: watch.id)
def test_every_finding_has_a_course_that_brings_it_about(watch):
    assert watch.id in {finding["id"] for finding in found(watch.id)}


def test_the_important_change_is_two_points_or_thirty_per_cent():
    # Farrar et al. 2001, Pain 94:149-158 (seen): 2 points or about 30 %. 6 to 4 is both, 8 to 6 points only,
    # 3 to 2 per cent only and below the 2025 MDC90 of 1.4 (seen).
    points, share = figures.IMPORTANT_POINTS.value, figures.IMPORTANT_SHARE.value
    importance = {(before, now): (before - now >= points, (before - now) / before >= share)
            for before, now in ((6, 4), (8, 6), (3, 2))}  # fmt: skip
    assert importance == {(6, 4): (True, True), (8, 6): (True, False), (3, 2): (False, True)}


def test_a_finding_has_a_condition_and_a_basis():
    assert all(watch.condition and watch.basis for watch in FINDINGS)
    assert len({watch.id for watch in FINDINGS}) == len(FINDINGS)


def found_in(facts, plan=None):
    plan, today = plan or plan_for(usual=1), START + timedelta(len(facts))
    days = follow(plan, start_state(plan), START, {START + timedelta(n): each for n, each in enumerate(facts)}, today)
    return {finding.id: finding for finding in review(ArmCourse(plan, days, days[-1].state_after, today))}


@pytest.mark.parametrize(
    ("weeks", "is_worse"),
    [((1, 2), False), ((0, 2), True), ((0, 1, 2), True), ((1, 0, 1), False), ((1, 1, 2), False), ((2, 0, 1), False)],
)
def test_mornings_are_worse_by_two_points_in_a_week_or_by_any_two_weeks_running(weeks, is_worse):
    facts = [day(1, pain) for pain in weeks for _ in range(7)]
    assert ("week-worse" in found_in(facts)) is is_worse


@pytest.mark.parametrize(
    ("idle_days", "said"), [(2, None), (3, "no-session"), (6, "no-session"), (7, "silent"), (9, "silent")]
)
@pytest.mark.parametrize("morning", [None, 1], ids=["silent mornings", "calm mornings"])
def test_the_days_said_are_the_days_without_a_session_whatever_the_mornings_were(idle_days, said, morning):
    found = found_in([day(), day(), *[idle(morning)] * idle_days])
    days_said = {name: len(finding.evidence) for name, finding in found.items() if name in ("no-session", "silent")}
    assert days_said == ({said: idle_days} if said else {})


def test_days_of_rest_count_as_days_without_a_session_but_rest_alone_is_nobodys_silence():
    assert "no-session" not in found_in([day(), day(6, 4), *[idle(4)] * 3])
    found = found_in([day(), day(6, 4), idle(4), idle(1), idle(1)])
    assert len(found["no-session"].evidence) == 3


def test_a_rest_is_told_of_on_its_third_day_and_not_on_its_second():
    assert "rest-long" not in found_in([day(), day(6, 4), idle(4)])
    assert "rest-long" in found_in([day(), day(6, 4), *[idle(4)] * 2])


def test_a_sign_of_today_is_told_before_the_day_is_closed():
    plan = plan_for()
    case = ArmCourse(plan, (), start_state(plan), START, DayFacts(sharp=True))
    assert [finding.id for finding in review(case)] == ["sharp"]


def test_answers_that_vary_once_are_no_pattern():
    assert "same-answers" in found_in([day(0, 0)] * 34)
    assert "same-answers" not in found_in([*[day(0, 0)] * 20, day(1, 0), *[day(0, 0)] * 13])
    assert "same-answers" not in found_in([day(4, 0)] * 34), "the work has not grown"


def test_ten_days_without_a_climb_have_a_cause_and_nine_have_none():
    assert "aching" not in found_in([day(4, 1)] * 9)
    assert "aching" in found_in([day(4, 1)] * 10)

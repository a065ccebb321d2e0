"""The page of a group: counts and a picture of its days without names, who is in trouble and why, and who has just come."""

import re
from datetime import date, timedelta

import pytest

from tests.builders import event, let_in, session, uuid7
from tests.cast import FIRST_DAY
from tests.practice.groups.conftest import Newcomer
from tests.practice.staff.conftest import SIGNE
from webapp.practice.groups.days import GroupDay
from webapp.practice.groups.drawing import group_plot, mornings_plot
from webapp.records import cases, groups, members
from webapp.sync.case import handing_over

TODAY = date(2026, 3, 9)
ONE_DAY = timedelta(days=1)


def _joined(site, group, number: int, *, mornings=(), sessions=(), answers=None) -> Newcomer:
    """Let a newcomer join and answer, and tell mornings as (day, pain) and sessions as days."""
    newcomer = Newcomer(site, number)
    assert newcomer.join(group.token).status_code == 200
    newcomer.answer(**(answers or {}))
    arms = (answers or {}).get("arms", ["right"])
    received = event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=3, id=uuid7(number * 100 + 5000))
    rated = [
        event("morning_reported", on, {"arms": {arm: {"pain": pain, "sharp": False} for arm in arms}}, seq=10 + count)
        for count, (on, pain) in enumerate(mornings)
    ]
    done = [session(on, 1, arms=tuple(arms), seq=50 + count) for count, on in enumerate(sessions)]
    for count, each in enumerate([*rated, *done]):
        each["id"] = uuid7(number * 100 + 5001 + count)
    answer = newcomer.sync(received, *rated, *done).json
    assert {result["status"] for result in answer["results"]} == {"stored"}
    return newcomer


def _counted(hedda, group) -> dict[str, int]:
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    return {name: int(count) for name, count in re.findall(r"<dt>([^<]+)</dt><dd>(\d+)</dd>", page)}


def _day_of_the_table(hedda, group, on: str) -> list[int]:
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    row = re.search(rf'<tr><th scope="row">{on}</th>(.*?)</tr>', page).group(1)
    return [int(number) for number in re.findall(r">(\d+)<", row)]


def test_the_counts_say_who_trained_and_who_woke_sore_and_the_table_says_it_by_day(site, hedda, group):
    _joined(site, group, 1, mornings=[(TODAY, 1)], sessions=[FIRST_DAY, TODAY])
    _joined(site, group, 2, mornings=[(TODAY, 4)], sessions=[TODAY - ONE_DAY])
    _joined(site, group, 3, answers={"arms": ["right", "left"]}, mornings=[(TODAY, 5)], sessions=[TODAY - ONE_DAY])
    counts = _counted(hedda, group)
    assert (counts["trained today"], counts["trained in seven days"], counts["sore this morning"]) == (1, 3, 2)
    # With the routine, trained, of rest, held, sore; who trains both arms is one person.
    assert _day_of_the_table(hedda, group, "Sun 8 Mar 2026") == [3, 2, 0, 0, 0]
    assert _day_of_the_table(hedda, group, "Mon 9 Mar 2026")[1::3] == [1, 2]


def test_who_is_in_trouble_stands_there_with_the_evidence_and_a_strip_of_their_own(site, hedda, group):
    _joined(site, group, 1, mornings=[(TODAY, 1)], sessions=[TODAY - ONE_DAY])
    _joined(site, group, 2, mornings=[(TODAY, 9)], sessions=[TODAY - ONE_DAY])
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    trouble = page.partition('id="part-trouble"')[2].partition("</section>")[0]
    assert "Tuesday, 2" in trouble
    assert "Sharp pain or a warning sign was reported, and the arm is held." in trouble
    assert "28 days: mornings told: 1, the highest 9 of 10; days with a session: 1" in trouble
    assert "Tuesday, 1" not in page


def test_who_was_handed_over_is_counted_as_gone_and_not_shown(site, hedda, group):
    newcomer = _joined(site, group, 1, mornings=[(TODAY, 9)], sessions=[TODAY - ONE_DAY])
    signe = members.add(site.db, site.hedda.practice, SIGNE.name, SIGNE.email, site.clock())
    let_in(site.db, signe, site.clock())
    taker = handing_over.colleagues_to_take(site.db, site.hedda.practice, site.hedda.id)[0]
    client = cases.find(site.db, site.hedda.id, newcomer.joined["client"]["id"]).id
    handing_over.hand_over(site.db, client, site.hedda, taker, site.hedda, "Away.", now=site.clock())
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    assert "1 who joined is no longer with you" in page
    assert "Tuesday, 1" not in page


def test_the_page_asks_how_many_have_come_and_nobody_else_may(site, hedda, group):
    address = f"/practice/groups/{group.public_id}/arrivals.json"
    assert hedda.open(address).json == {"joined": 0, "answering": 0, "waiting": 0, "started": 0}
    phones = [Newcomer(site, number) for number in (1, 2, 3)]
    for phone in phones:
        phone.join(group.token)
    phones[1].answer()
    phones[2].answer(usual=6)
    assert hedda.open(address).json == {"joined": 3, "answering": 1, "waiting": 1, "started": 1}
    assert site.visitor().open(address).status_code == 303
    site.db.execute("UPDATE groups SET practitioner = ?", (site.hedda.id + 1,))
    site.db.conn.commit()
    assert hedda.open(address).status_code == 404


def test_without_scripts_a_link_looks_again_and_before_anybody_has_come_the_page_is_the_link(site, hedda, group):
    page = hedda.open(f"/practice/groups/{group.public_id}").text
    assert "Nobody has joined yet." in page
    assert "part-trouble" not in page
    assert f'href="/practice/groups/{group.public_id}">Look again</a>' in page


def test_the_slip_has_the_link_and_its_end_and_a_closed_group_has_none(site, hedda, group):
    address = f"/practice/groups/{group.public_id}/slip"
    slip = hedda.open(address).text.partition('class="group-slip"')[2]
    assert "Hedda Marrow asks you to try a routine." in slip
    assert f"/join#{group.token}" in slip
    assert "It works until the end of Mon 23 Mar 2026." in slip
    groups.close(site.db, site.hedda.id, group.public_id, site.clock())
    assert hedda.open(address).status_code == 303


def _day(number: int, *people: int) -> GroupDay:
    return GroupDay(FIRST_DAY + number * ONE_DAY, *people)


def test_in_the_picture_height_is_people_and_who_is_held_stands_on_who_rests():
    plot = group_plot([_day(0, 4, 3, 0, 0, 0), _day(1, 4, 1, 1, 2, 3)])
    # Two tracks of one scale: room for three sore people above, four people below, and a gap.
    assert (plot.ground, plot.height) == (3, 7.6)
    assert plot.trained == "M0.12 7.6V4.6H0.88V7.6ZM1.12 7.6V6.6H1.88V7.6Z"
    assert plot.held == "M1.12 5.6V3.6H1.88V5.6Z"
    assert plot.sore == "M1.12 3V0H1.88V3Z"
    assert [round(field.top + field.height) for field in plot.rested] == [round(100 * 6.6 / 7.6)]
    assert [tick.value for tick in plot.ticks] == [3, 0, 4, 0]


@pytest.mark.parametrize(("rating", "is_cut"), [(5, False), (6, True)])
def test_a_morning_from_6_up_is_cut_on_the_slant(rating, is_cut):
    plot = mornings_plot({**dict.fromkeys(range(11), 0), rating: 2})
    assert bool(plot.high) == is_cut
    assert bool(plot.low) != is_cut
    assert plot.most == 2

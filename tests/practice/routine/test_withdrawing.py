"""A version that no phone has received may be taken back; its number is never used again, and a late receipt brings it back."""

from tests import builders
from tests.cast import FIRST_DAY
from webapp.records import acts, new_life, routines, withdrawn
from webapp.sync.folding.fold import accounts_of

CASE = "/practice/cases/ansgar0001"
DESK = f"{CASE}/routine"
TODAY = builders.date(2026, 3, 9)


def _push(hedda, **changes):
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "preview", **changes}, post_to=DESK)
    return hedda.fill("/routine", {"step": "push"}, post_to=DESK)


def _withdraw(hedda, version):
    hedda.open(CASE)
    return hedda.fill(f"/versions/{version}/withdraw", {}, post_to=f"{CASE}/versions/{version}/withdraw")


def _numbers(site):
    return [version.version for version in routines.of_client(site.db, site.founder.id)]


def _received(version, on, seq):
    return builders.event("routine_received", on, {"version": version, "bundle": ""}, seq=seq)


def test_a_withdrawn_version_is_handed_to_no_phone_and_its_number_is_used_up(site, hedda):
    site.begin(site.founder, [])
    _push(hedda, goal_reps="15")
    _withdraw(hedda, 2)
    assert "Version 2 is withdrawn" in hedda.text
    assert "Withdrawn before a phone had it: version 2." in hedda.text
    assert _numbers(site) == [1]
    assert routines.newest_number(site.db, site.founder.id) == 1
    _push(hedda, goal_reps="18")
    assert _numbers(site) == [3, 1]


def test_a_version_that_a_phone_has_is_not_withdrawn(site, hedda):
    _push(hedda, goal_reps="15")
    hedda.open(CASE)
    form = hedda.form("/versions/2/withdraw")
    site.receive(site.founder, [_received(2, FIRST_DAY, 900)])
    hedda.send(f"{CASE}/versions/2/withdraw", form, follow=True)
    assert "Version 2 was not withdrawn" in hedda.text
    assert _numbers(site) == [2, 1]
    assert "Withdraw version" not in hedda.text


def test_a_second_press_withdraws_nothing_more(site, hedda):
    _push(hedda, goal_reps="15")
    hedda.open(CASE)
    form = hedda.form("/versions/2/withdraw")
    for _ in range(2):
        hedda.send(f"{CASE}/versions/2/withdraw", form, follow=True)
    assert "Version 2 was not withdrawn" in hedda.text
    assert _numbers(site) == [1]


def test_a_button_without_a_token_withdraws_nothing(site, hedda):
    _push(hedda, goal_reps="15")
    hedda.send(f"{CASE}/versions/2/withdraw", {}, follow=True)
    assert _numbers(site) == [2, 1]


def test_a_phone_that_had_fetched_it_all_the_same_is_followed_once_it_says_so(site, hedda):
    site.begin(site.founder, [])
    _push(hedda, goal_reps="15")
    _withdraw(hedda, 2)
    site.receive(site.founder, [_received(2, TODAY, 901)])
    assert _numbers(site) == [2, 1]
    account = accounts_of(site.db, site.founder.id, TODAY)["right"]
    assert (account.version, account.plan.tuning.goal_reps) == (2, 15)
    assert withdrawn.numbers_of(site.db, site.founder.id) == []


def test_a_restored_copy_withdraws_again(site, hedda):
    _push(hedda, goal_reps="15")
    count, life = acts.count_of(site.db), acts.life_of(site.db)
    act = acts.Act(life, count + 1, acts.ROUTINE_WITHDRAWN, f"{site.founder.id} 2")
    new_life.begin(site.db, [*acts.read(site.db.path), act], site.clock())
    assert _numbers(site) == [1]


def test_the_case_page_says_what_became_of_each_version(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, [(2, 1)]))
    hedda.open(CASE)
    assert "first session with it on" in hedda.text
    _push(hedda, goal_reps="15", note="Fewer reps.")
    assert "not received by the phone yet" in hedda.text
    site.receive(site.founder, [_received(2, TODAY, 901)])
    hedda.open(CASE)
    assert "no session with it yet" in hedda.text
    assert "note not read yet" in hedda.text

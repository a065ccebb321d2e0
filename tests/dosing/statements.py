"""The nine statements of the rule book, each as a check over every reachable state of one plan.

A check takes a `Whole` and raises an AssertionError that names a state where the statement does not hold. Statements 5
and 6 are also checked where logs and phones are; statement 8 is the review's (test_standstill.py).
"""

from itertools import pairwise

import numpy as np

from tests.dosing.whole import ALMOST, NUMBER, Whole
from webapp.dosing import figures
from webapp.dosing.dose import dose
from webapp.dosing.release import LEAST, Return, fits_within, offer, released, returns
from webapp.dosing.responses import DONE_AXIS, ENOUGH, IDLE, KNOWN_AXIS, RESPONSES, classify, sore_limit
from webapp.dosing.state import MOST_EASE, State

TRAINING, RESTING, HELD = range(3)
SHORT_HOLD_SECONDS = 20
"""Own choice, no source: of an eased or tender arm."""
A_TENTH = 1.10
"""2-10 % a step (source: acsm-2009, seen second-hand)."""


def holds(whole: Whole, bad, *facts):
    """Fail with the first state that a mask marks."""
    found = np.flatnonzero(bad)
    assert not found.size, (found.size, whole.state(int(found[0])), *facts)


def check_1_work_never_rises_but_after_a_settled_day(whole):
    free = whole.mode != HELD
    for response in RESPONSES:
        after = whole.next[NUMBER[response]]
        rises = whole.work_if_training[after] > whole.work_if_training * ALMOST
        may_rise = (response == "settled") & (whole.mode == TRAINING)
        holds(whole, free & (whole.mode[after] != HELD) & rises & ~may_rise, response)


def check_1_rest_comes_back_lower_or_at_the_floor_the_same(whole):
    for response in ("flared", "flared_idle"):
        after = whole.next[NUMBER[response]]
        training = whole.mode == TRAINING
        holds(whole, training & (whole.mode[after] != RESTING), response)
        at_floor = (whole.rung == 1) & (whole.ease == MOST_EASE)
        # Short sessions of so few reps that two rungs ask the same come back the same too.
        is_whole = whole.of_row(lambda state: state.first_week_stage == 0)
        lower = whole.work_if_training[after] < whole.work_if_training
        holds(whole, training & is_whole & ~at_floor & ~lower, response)


def check_2_one_climb_stays_under_the_cap(whole):
    after = whole.next[NUMBER["settled"]]
    climbs = (whole.rung[after] > whole.rung) & (whole.mode == TRAINING)
    ladder, tuning = whole.plan.ladder, whole.plan.tuning
    rungs = [ladder.rung(number) for number in range(1, ladder.top + 1)]
    accepted = [rung.heavier and rung.load_kg in tuning.accepted_jumps_kg for rung in rungs]
    caps = np.array([0, *(1e9 if jump else A_TENTH if rung.heavier else 1 + tuning.rise
                          for rung, jump in zip(rungs, accepted, strict=True))])  # fmt: skip
    holds(whole, climbs & (whole.rung[after] != whole.rung + 1))
    holds(whole, climbs & (whole.work[after] > whole.work * caps[whole.rung[after]] * ALMOST))
    if whole.plan.client.usual >= figures.USUAL_BY_HAND.value:
        holds(whole, climbs)


def check_2_one_lever_at_a_time(whole):
    longest = whole.of_row(lambda state: max((hold.seconds for hold in dose(whole.plan, state).holds), default=0))
    stage = whole.of_row(lambda state: state.first_week_stage)
    for response in RESPONSES:
        after = whole.next[NUMBER[response]]
        both = (whole.mode == TRAINING) & (whole.mode[after] == TRAINING)
        range_, rung = whole.ease[after] < whole.ease, whole.rung[after] > whole.rung
        fuller = (whole.work[after] > whole.work * ALMOST) & (stage[after] != stage)
        levers = range_.astype(int) + rung + fuller
        holds(whole, both & (levers > 1), response)
        holds(whole, both & (levers > 0) & (longest[after] > longest), response)
        holds(whole, both & range_ & (whole.ease - whole.ease[after] != 1), response)


def check_2_never_two_increases_within_72_hours(whole):
    """After an increase no response of the next two days brings another (source: magnusson-2010, seen second-hand)."""
    settled = whole.next[NUMBER["settled"]]
    grew = (whole.mode == TRAINING) & (whole.work[settled] > whole.work * ALMOST)
    later = np.unique(settled[grew])
    for _ in range(2):
        for response in RESPONSES:
            after = whole.next[NUMBER[response]][later]
            rises = (whole.work[after] > whole.work[later] * ALMOST) & (whole.mode[later] == TRAINING)
            assert not rises.any(), (response, whole.state(int(later[np.flatnonzero(rises)[0]])))
        later = np.unique(np.concatenate([whole.next[NUMBER[response]][later] for response in RESPONSES]))
        later = later[whole.mode[later] == TRAINING]


def _hold(whole):
    """How long the longest stretch is held in each state, were its rest or hold over as it stands, seconds."""
    return whole.of_row(
        lambda state: max((hold.seconds for hold in dose(whole.plan, state._replace(mode="training")).holds), default=0)
    )


def check_2_no_stretch_lengthens_but_after_a_settled_day(whole):
    """And not on the day on which range, weight or reps go up: those are levers too."""
    longest, free = _hold(whole), whole.mode != HELD
    levers = {name: whole.of_row(lambda state, pick=pick: pick(dose(whole.plan, state._replace(mode="training"))))
             for name, pick in LEVERS.items()}  # fmt: skip
    for response in RESPONSES:
        after = whole.next[NUMBER[response]]
        longer = free & (whole.mode[after] != HELD) & (longest[after] > longest)
        holds(whole, longer & ((response != "settled") | (whole.mode != TRAINING)), response)
        for name, lever in levers.items():
            holds(whole, longer & (lever[after] > lever), response, name)


LEVERS = {
    "range": lambda day: day.sets[0].range,
    "weight": lambda day: day.sets[0].load_kg,
    "reps of a day": lambda day: day.sessions * sum(each.reps for each in day.sets),
    "work of a day": lambda day: day.work_j,
}


def check_2_an_eased_or_tender_arm_holds_a_stretch_short(whole):
    is_so = whole.of_row(lambda state: state.ease > 0 or state.tender_days > 0)
    holds(whole, is_so & (_hold(whole) > SHORT_HOLD_SECONDS))


def check_3_held_is_left_by_nothing_and_all_else_reaches_rest(whole):
    for response in RESPONSES:
        holds(whole, (whole.mode == HELD) & (whole.mode[whole.next[NUMBER[response]]] != HELD), response)
    flared = whole.next[NUMBER["flared"]]
    holds(whole, (whole.mode == TRAINING) & (whole.mode[flared] != RESTING))


def check_3_enough_good_days_reach_the_highest_rung_allowed(whole):
    settled = whole.next[NUMBER["settled"]]
    now = np.flatnonzero(whole.mode != HELD)
    while not (settled[now] == now).all():
        now = settled[now]
    ends = np.unique(now)
    by_hand = whole.plan.client.usual >= figures.USUAL_BY_HAND.value
    for number in ends:
        state = whole.state(int(number))
        assert state.mode == "training" and not state.ease and not state.first_week_stage, state  # noqa: PT018 - one state
        assert by_hand or state.rung == whole.plan.ladder.top, state


def check_4_a_worse_answer_never_gives_more_the_next_day(whole):
    for better, worse in whole.worse_pairs:
        p, q = whole.next[NUMBER[better]], whole.next[NUMBER[worse]]
        holds(whole, whole.work[q] > whole.work[p] * ALMOST, better, worse)


def check_4_a_worse_answer_never_gives_more_ever_after(whole):
    """The greatest simulation: pairs of states are followed, day by day, until no pair is new."""
    for later in ("settled", "missed"):
        step = whole.next[NUMBER[later]]
        for better, worse in whole.worse_pairs:
            p, q = whole.next[NUMBER[better]], whole.next[NUMBER[worse]]
            while True:
                holds(whole, whole.work[q] > whole.work[p] * ALMOST, better, worse, later)
                if (step[p] == p).all() and (step[q] == q).all():
                    break
                p, q = step[p], step[q]


def check_4_less_done_never_gives_more_the_next_day(whole):
    """All but one kind of cell: see `less_done_may_give_more`."""
    plan = whole.plan
    for during in KNOWN_AXIS:
        for morning in KNOWN_AXIS:
            answers = [classify(done, during, morning, None, plan.client.usual, plan.tuning) for done in DONE_AXIS]
            for less, more in pairwise(answers):
                if less_done_may_give_more(plan.client.usual, morning, less, more):
                    continue
                p, q = whole.next[NUMBER[more]], whole.next[NUMBER[less]]
                holds(whole, whole.work[q] > whole.work[p] * ALMOST, more, less)


def less_done_may_give_more(usual, morning, less, more):
    """Say whether it is the one exception.

    A morning a point over the usual one, of 3 or more, counts as tender after a session and as nothing without one. So on
    the fourth such day a session eases the dose, and none leaves it. The rules want it so: a point is inside the noise of
    the scale, and a day of rest is not called sore for it.
    """
    return less == "missed" and more == "tender" and morning == sore_limit(usual)


def check_5_every_state_answers_every_response(whole):
    assert whole.next.shape == (len(RESPONSES), whole.count)
    assert (whole.next >= 0).all() and (whole.next < whole.count).all()  # noqa: PT018 - one range
    assert (whole.keys[whole.next] == np.stack([whole._step(whole.keys, name) for name in RESPONSES])).all()
    holds(whole, (whole.rung < 1) | (whole.rung > whole.plan.ladder.top) | (whole.ease > MOST_EASE))


def check_7_what_was_not_done_never_earns_more(whole):
    usual, tuning = whole.plan.client.usual, whole.plan.tuning
    for done in DONE_AXIS:
        for during in KNOWN_AXIS:
            for morning in KNOWN_AXIS:
                assert done == ENOUGH or classify(done, during, morning, None, usual, tuning) != "settled"
    for response in set(RESPONSES) - {"settled"}:
        after = whole.next[NUMBER[response]]
        free = (whole.mode != HELD) & (whole.mode[after] != HELD)
        holds(whole, free & ((whole.rung[after] > whole.rung) | (whole.ease[after] < whole.ease)), response)


def check_9_no_return_asks_more_than_the_arm_had(whole):
    plan = whole.plan
    stopped = whole.next[NUMBER["sharp"]]
    had = {}
    for number in np.flatnonzero(whole.mode != HELD):
        held = whole.state(int(stopped[number]))
        had[held] = min(had.get(held, np.inf), whole.work_if_training[number])
    for held, had_j in had.items():
        was = dose(plan, held._replace(mode="training"))
        for chosen in returns(plan, held):
            back = dose(plan, released(plan, held, chosen))
            assert back.work_j <= had_j * ALMOST, (held, chosen)
            assert back.sessions <= was.sessions, (held, chosen)
            # The least dose there is may have a rep more than the first rung of a heavier weight.
            is_least = chosen == LEAST and was.sets[0].load_kg > back.sets[0].load_kg
            for now, then in zip(back.sets, was.sets, strict=True):
                assert now.load_kg <= then.load_kg and now.range <= then.range, (held, chosen)  # noqa: PT018 - one bound
                assert is_least or now.reps <= then.reps, (held, chosen, now.reps, then.reps)


def check_9_a_release_of_more_counts_as_the_offer(whole):
    plan = whole.plan
    for rung in {1, plan.ladder.top, (plan.ladder.top + 1) // 2}:
        for ease in range(MOST_EASE + 1):
            held = State(rung, ease, mode="held")
            for wish in ((rung, ease), (plan.ladder.top + 9, 0), (1, MOST_EASE), (rung, MOST_EASE)):
                back = released(plan, held, Return(*wish))
                assert fits_within(plan, held, Return(back.rung, back.ease), offer(plan, held)), (held, wish)


def check_9_after_a_rest_until_a_day_an_arm_has_no_more_than_before(whole):
    # The days of a rest are days without a session, whatever the mornings say: no such day gives back rung or range.
    for response in IDLE:
        after = whole.next[NUMBER[response]]
        free = (whole.mode != HELD) & (whole.mode[after] != HELD)
        rises = (whole.rung[after] > whole.rung) | (whole.ease[after] < whole.ease)
        more = whole.work_if_training[after] > whole.work_if_training * ALMOST
        holds(whole, free & (rises | more), response)


CHECKS = tuple(check for name, check in sorted(globals().items()) if name.startswith("check_"))

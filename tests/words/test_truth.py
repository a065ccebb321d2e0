"""Every reason is true in every state: the sentence is read beside the change of state and dose that it stands for."""

import pytest

from tests.dosing.spread import fixed_plans
from tests.dosing.whole import Whole
from tests.words.promises import Turn, broken, claims, promised
from webapp.app import create_app
from webapp.config import Settings
from webapp.dosing.closing import close_day, without_gap
from webapp.dosing.dose import dose
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.dosing.rules import RULES
from webapp.dosing.state import State
from webapp.words import reason_text, words_for

ENGLISH = words_for("en")
IDS = [rule.id for rule in RULES]
PLANS = (2, 3, 5, 11, 12)
"""The smaller ones of the plans that every walk takes."""
MACRO = "{% import 'desk/words.html' as words with context %}{{ words.reason(code) }}"


@pytest.fixture
def readings(db):
    """The sentences of every rule as each of the two readers has them."""
    app = create_app(Settings(db=db.path))
    with app.test_request_context("/practice"):
        said = app.jinja_env.from_string(MACRO)
        desk = {rule: said.render(code=rule, locale="en").strip() for rule in IDS}
    return {"client": {rule: reason_text(ENGLISH, rule) for rule in IDS}, "practitioner": desk}


def turns_of(number):
    """Every day closed from every reachable state of one plan, each with its reasons; only a day without a session knows its gap."""
    whole = Whole(fixed_plans()[number])
    plan = whole.plan
    states = [whole.state(at) for at in range(whole.count)]
    closed = [(without_gap(state), response) for state in set(map(without_gap, states)) for response in RESPONSES]
    closed += [(state, response) for state in states if state.gap_days for response in IDLE]
    for before, response in closed:
        after, reasons = close_day(plan, before, response)
        yield Turn(plan, before, response, after, dose(plan, before), dose(plan, after)), reasons


def test_every_reason_promises_something(readings):
    for reader, said in readings.items():
        for rule, sentence in said.items():
            assert promised(sentence), (reader, rule, sentence)


def check_plan(number, readings):
    turns = list(turns_of(number))
    for reader, said in readings.items():
        changes = {rule: promised(sentence) for rule, sentence in said.items()}
        truths = {rule: claims(sentence) for rule, sentence in said.items()}
        for turn, reasons in turns:
            fault = broken(turn, [change for rule in reasons for change in changes[rule]])
            assert not fault, (reader, fault, [said[rule] for rule in reasons], turn[1:4])
            untrue = [(rule, phrase) for rule in reasons for phrase, holds in truths[rule].items() if not holds(turn)]
            assert not untrue, (reader, untrue, turn[1:4])
    return len(turns)


@pytest.mark.walk
@pytest.mark.parametrize("number", PLANS)
def test_every_promise_of_a_reason_is_kept_in_every_state(number, readings, counted):
    counted(f"reasons on plan {number:2}: {check_plan(number, readings)} closed days, each read by two")


@pytest.mark.long
@pytest.mark.parametrize("number", sorted({*range(len(fixed_plans()))} - {*PLANS}))
def test_every_promise_of_a_reason_is_kept_in_the_larger_plans_too(number, readings, counted):
    counted(f"reasons on plan {number:2}: {check_plan(number, readings)} closed days, each read by two")


@pytest.mark.parametrize(
    ("sentence", "fault"),
    [
        ("The movements get smaller.", "ease"),
        ("Sore: one step down.", "rung"),
        ("Two weeks without a session: further down.", "rung"),
        ("The arm rests.", "mode"),
        ("By itself it changes nothing.", ""),
    ],
)
def test_a_sentence_that_promises_a_change_where_nothing_changes_is_found(sentence, fault):
    plan = fixed_plans()[0]
    state = State(1, 2, tender_days=1)
    turn = Turn(plan, state, "tender", state._replace(tender_days=2), dose(plan, state), dose(plan, state))
    assert broken(turn, promised(sentence)) == fault


def test_a_change_that_no_sentence_promises_is_found():
    plan = fixed_plans()[0]
    above, below = State(3), State(2)
    turn = Turn(plan, above, "tender", below, dose(plan, above), dose(plan, below))
    assert broken(turn, promised("By itself it changes nothing.")) == "rung"
    assert broken(turn, promised("Sore: one step down.")) == ""

"""The core beside general-purpose libraries: the smallest automaton, ways through a graph, an integral."""

from itertools import product
from math import cos, radians

import networkx as nx
import pytest
from automata.fa.dfa import DFA
from scipy.integrate import quad

from tests.dosing.whole import Whole
from webapp.dosing.almanac import merged, walk
from webapp.dosing.body import arc_degrees, peak_moment_nm, work_of_rep_j
from webapp.dosing.closing import close_day, without_gap
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.release import released_states
from webapp.dosing.responses import RESPONSES
from webapp.dosing.settings import DIRECTIONS, Body, Client, Routine, Tuning

BODY = Body(70, 1.75, "male")
ROOT, YES, NO = "root", "yes", "no"


def plan_of(weights=(0.0,), **tuning):
    return make_plan(Routine("Test", "outer_elbow", Tuning(**tuning)), Client(BODY, ("right",), weights, 2))


SMALL = {
    "two rungs, no first week": plan_of(first_week_sessions=1, goal_reps=10),
    "six rungs": plan_of(),
    "two weights": plan_of((0.0, 0.45359237), first_week_sessions=1, goal_reps=15),
}


def shown_at(table, row):
    """What a person can see of a row: its dose, the reasons for each next day, where the arm stands, and its release."""
    state = table.states[row]
    # A release keeps the stage of the first week at which an arm was held.
    stage = state.first_week_stage if state.mode == "held" else 0
    seen = (state.rung, state.ease, state.settled_streak, state.rest_days, state.mode, stage)
    return table.dose_of[row], table.reasons[row], seen


def entries_of(plan, table):
    """The rows at which an arm may begin: the start, and wherever a release may leave it."""
    held = [state for state in table.states if state.mode == "held"]
    states = {start_state(plan), *(after for state in held for after in released_states(plan, state))}
    return sorted({table.rows[without_gap(state)] for state in states})


def automaton_of(plan, table):
    """The walked table as an automaton that accepts questions and answers, its smallest form as small as the table's.

    An acceptor knows only yes and no, where a row shows a dose, reasons and a standing. So each distinct showing has
    a number from 1, and for each binary digit of it there is a letter that asks for the digit: it leads to `yes` or
    `no`. A letter for each entry leads from the root into the table.
    """
    numbers = {}
    digits_of = [numbers.setdefault(shown_at(table, row), len(numbers) + 1) for row in range(len(table.states))]
    digits = [f"digit {power}" for power in range(len(numbers).bit_length())]
    entries = {f"entry {row}": row for row in entries_of(plan, table)}
    columns = dict(table.gap.columns)
    columns |= {response: [after[column] for after in table.next] for column, response in enumerate(RESPONSES)}
    letters = [*columns, *digits, *entries]
    moves = {name: dict.fromkeys(letters, NO) for name in (YES, NO)}
    moves[ROOT] = dict.fromkeys(letters, NO) | entries
    for row, number in enumerate(digits_of):
        answers = {digit: YES if number >> power & 1 else NO for power, digit in enumerate(digits)}
        moves[row] = dict.fromkeys(letters, NO) | {name: rows[row] for name, rows in columns.items()} | answers
    return DFA(states=set(moves), input_symbols=set(letters), transitions=moves, initial_state=ROOT, final_states={YES})


@pytest.mark.parametrize("plan", SMALL.values(), ids=SMALL)
def test_the_merged_table_is_the_smallest_automaton_and_merges_the_same_rows(plan):
    table = walk(plan)
    least = automaton_of(plan, table).minify(retain_names=True)
    classes = {frozenset(group) for group in least.states} - {frozenset({name}) for name in (ROOT, YES, NO)}
    ours = merged(table)
    assert len(least.states) == len(ours.states) + 3 < len(table.states)
    groups = {}
    for state, row in ours.rows.items():
        groups.setdefault(row, set()).add(table.rows[state])
    assert classes == {frozenset(group) for group in groups.values()}


class Graph:
    """Every reachable state, days of gap included, as a directed graph; an edge knows the responses that lead along it."""

    def __init__(self, plan):
        self.whole = whole = Whole(plan)
        self.plan = plan
        edges = nx.DiGraph()
        edges.add_nodes_from(range(whole.count))
        for response, after in zip(RESPONSES, whole.next, strict=True):
            edges.add_edges_from(zip(range(whole.count), after.tolist(), strict=True), response=response)
        self.edges = edges
        self.held = {number for number in range(whole.count) if whole.mode[number] == 2}

    def along(self, response):
        """The edges of one response only."""
        after = self.whole.next[RESPONSES.index(response)].tolist()
        return nx.DiGraph(zip(range(self.whole.count), after, strict=True))

    def goals(self):
        """Where nothing is left to climb: the highest rung at the whole range, training."""
        whole = self.whole
        top = (whole.rung == self.plan.ladder.top) & (whole.ease == 0) & (whole.mode == 0)
        return set(top.nonzero()[0].tolist())


@pytest.fixture(scope="module", params=["six rungs", "two weights"])
def graph(request):
    return Graph(SMALL[request.param])


def test_states_with_days_of_gap_close_as_the_rules_close_them(graph):
    whole = graph.whole
    step = max(1, whole.count // 500)
    for number, (column, response) in product(range(0, whole.count, step), enumerate(RESPONSES)):
        after = close_day(graph.plan, whole.state(number), response).state
        assert whole.almanac.position(after) == whole.almanac.position(whole.state(int(whole.next[column][number])))


def test_every_state_is_reached_from_the_start_and_from_the_releases(graph):
    whole = graph.whole
    entries = set(entries_of(graph.plan, whole.almanac))
    starts = {
        number for number in range(whole.count) if whole.rows[number] in entries and not whole.state(number).gap_days
    }
    reached = nx.multi_source_dijkstra_path_length(graph.edges, starts, weight=None)
    assert set(reached) == set(range(whole.count))


def test_a_hold_is_a_sink_and_the_only_kind_of_sink(graph):
    closed = {number for number in graph.edges if set(graph.edges.successors(number)) <= {number}}
    assert closed == graph.held
    assert closed


def test_every_state_that_is_not_held_rests_or_is_held_after_one_flared_day(graph):
    whole = graph.whole
    for flared in ("flared", "flared_idle"):
        after = whole.next[RESPONSES.index(flared)]
        assert all(whole.mode[after[number]] != 0 for number in graph.edges if number not in graph.held)


def test_settled_days_alone_lead_every_state_that_is_not_held_to_the_goal(graph):
    settled = graph.along("settled").reverse(copy=False)
    arrive = nx.multi_source_dijkstra_path_length(settled, graph.goals(), weight=None)
    assert set(arrive) == set(graph.edges) - graph.held
    cycles = list(nx.simple_cycles(graph.along("settled")))
    assert {number for cycle in cycles for number in cycle} <= graph.goals() | graph.held


def test_the_goal_and_the_bottom_belong_to_one_component_that_is_only_left_by_a_hold(graph):
    whole = graph.whole
    heart = max(nx.strongly_connected_components(graph.edges), key=len)
    bottom = {
        number
        for number in graph.edges
        if whole.rung[number] == 1 and whole.ease[number] == 2 and whole.mode[number] == 0
    }
    assert graph.goals() & heart
    assert bottom & heart
    left = {after for number in heart for after in graph.edges.successors(number)} - heart
    assert left <= graph.held
    # Whatever lies outside of it is gone through once and left for good: the first week, what is owed after a release.
    before = nx.ancestors(graph.edges, next(iter(heart))) | heart
    assert before == set(graph.edges) - graph.held


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize(("load_kg", "share"), [(0.0, 1.0), (0.45359237, 0.75), (2.26796185, 0.5)])
def test_the_work_of_a_rep_is_the_integral_of_the_moment_over_the_arc(direction, load_kg, share):
    below, above = arc_degrees(direction, share)
    peak = peak_moment_nm(BODY, load_kg)
    integral, error = quad(lambda angle: peak * cos(angle), -radians(below), radians(above))
    assert error < 1e-9
    assert work_of_rep_j(BODY, load_kg, below, above) == pytest.approx(integral, abs=1e-9)
    assert integral > 0

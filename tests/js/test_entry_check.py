"""The phone's check of an entry's body against the server's check."""

from functools import cache

import pytest

from tests.js.hostile_bodies import FITTING, many_faults, one_fault_each
from webapp.events.codec import check_body
from webapp.events.kinds import KINDS, EventError

FITS = """async (load, { bodies }) => {
  const { fitsKind } = await load("pure/sync/entry_check.js");
  return bodies.map(([kind, body]) => fitsKind(kind, body));
}"""
OF_EACH_KIND = 100


@cache
def bodies():
    return [*one_fault_each(), *many_faults(2026, OF_EACH_KIND)]


def fits(kind, body):
    if not isinstance(body, dict):
        return False
    try:
        check_body(kind, body)
    except EventError:
        return False
    return True


def test_phone_and_server_let_the_same_bodies_pass(ask, counted):
    answers = ask(FITS, bodies=bodies())
    different = [pair for pair, answer in zip(bodies(), answers, strict=True) if answer != fits(*pair)]
    counted(
        f"bodies checked by phone and server: {len(bodies())}, {sum(answers)} of which fit, {len(different)} differences"
    )
    assert different == []


@pytest.mark.parametrize("kind", KINDS)
def test_of_the_bodies_of_a_kind_some_fit_and_most_do_not(kind):
    answers = [fits(*pair) for pair in bodies() if pair[0] == kind]
    assert fits(kind, FITTING[kind])
    assert len(answers) / 100 < sum(answers) < len(answers) * 2 / 3

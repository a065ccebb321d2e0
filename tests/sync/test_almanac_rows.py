from webapp.bench.example import example_plan
from webapp.dosing.almanac import build
from webapp.sync.bundle.almanac_rows import pack, row_of


def test_every_state_of_an_almanac_is_found_in_the_bytes_whatever_its_gap():
    rows = build(example_plan()).rows
    packed = pack(rows)
    assert {state: row_of(packed, state) for state in rows} == rows
    assert {row_of(packed, state._replace(gap_days=9, gap_rung=3)) == row for state, row in rows.items()} == {True}


def test_a_state_that_is_not_in_the_almanac_has_no_row():
    rows = dict(build(example_plan()).rows)
    left_out = [rows.pop(state) and state for state in list(rows)[1::7]]
    packed = pack(rows)
    assert {row_of(packed, state) for state in left_out if state} == {None}
    assert row_of(pack({}), next(iter(rows))) is None

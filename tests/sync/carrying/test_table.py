"""The days of clients as a table; what is read back from it says the same."""

import csv
from io import StringIO

from tests.builders import days_of, session
from tests.cast import FIRST_DAY
from webapp.library.diary import read_diary
from webapp.sync.carrying import table
from webapp.sync.log.diary import entries_of
from webapp.sync.log.facts import facts_by_arm


def test_the_diary_that_is_read_back_has_the_same_facts(db, ansgar, send):
    send(ansgar, *days_of(FIRST_DAY, [(1, 2), (6, None), (None, 4), (2, 1)]))
    send(
        ansgar,
        session(FIRST_DAY.replace(day=20), None, share=500, seq=70),
        session(FIRST_DAY.replace(day=22), 9, sharp=True, seq=71),
    )
    from webapp.records import events  # noqa: PLC0415 - the log itself, for the comparison only

    facts = facts_by_arm(entries_of(events.of_client(db, ansgar.id)))["right"]
    read = read_diary(table.of_client(db, ansgar.id)).facts["right"]
    known = {on: fact for on, fact in facts.items() if fact.sessions or fact.morning is not None or fact.sharp}
    assert {on: read[on] for on in known} == known


def test_a_name_that_looks_like_a_formula_is_only_text(db, ansgar, send):
    send(ansgar, *days_of(FIRST_DAY, [(1, 2)]))
    with db.conn:
        db.execute("UPDATE clients SET name = '=1+1' WHERE id = ?", (ansgar.id,))
    rows = list(csv.DictReader(StringIO("".join(table.of_clients(db, [ansgar.id])))))
    assert rows[0]["name"] == "'=1+1"
    assert rows[0]["client"] == "ansgar0001"

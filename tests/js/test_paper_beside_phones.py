"""What is typed in from paper counts as the same numbers from a second phone would, for the server and for the scripts.

Of two reports of one morning or session the worse counts, whoever sent it.
"""

import json
from datetime import timedelta
from itertools import count, product

import msgspec
import pytest

from tests.builders import morning, session
from tests.cast import FIRST_DAY, NOW
from tests.js.test_daybook import FACTS, by_server
from webapp.dosing.course import is_sharp
from webapp.events.codec import decode
from webapp.events.kinds import Event
from webapp.records import events
from webapp.sync.from_paper import handing_out, typing_in
from webapp.sync.from_paper.typed_days import Said
from webapp.sync.from_paper.typing_in import OnPaper
from webapp.sync.log.diary import entries_of
from webapp.sync.log.facts import facts_by_arm
from webapp.sync.log.take import take_batch

NO_SESSION = "no session"
MORNINGS, WORSTS = (None, 4), (NO_SESSION, None, 4)
ON_PAPER = [
    Said(morning=1),
    Said(morning=6),
    Said(morning=8),
    Said(worst=1, done=100),
    Said(worst=6, done=100),
    Said(worst=8, done=100),
    Said(worst=8),
    Said(sharp=True),
    Said(morning=8, worst=9, done=100, sharp=True),
    Said(morning=2, worst=2, done=100),
]
CASES = list(product(MORNINGS, WORSTS, ON_PAPER))
ONE_DAY = timedelta(days=1)


def on_day(number):
    """A day of its own for each case; the days between have nothing."""
    return FIRST_DAY + 2 * number * ONE_DAY


def by_phone(number, numbers):
    """What a phone says of a case."""
    known, worst, _ = CASES[number]
    on = on_day(number)
    said = [] if known is None else [morning(on, known, seq=next(numbers))]
    return said + ([] if worst == NO_SESSION else [session(on, worst, seq=next(numbers))])


def by_a_second_phone(number, numbers):
    """What paper says of a case, as if a second phone had sent it; the work of a session that was done once is counted once."""
    _, worst, paper = CASES[number]
    on = on_day(number)
    said = [] if paper.morning is None else [morning(on, paper.morning, seq=next(numbers))]
    if not paper.has_session:
        return said
    share = 10 * (paper.done or 0) if worst == NO_SESSION else 0
    return [*said, session(on, paper.worst, share=share, sharp=paper.sharp, seq=next(numbers))]


@pytest.fixture
def typed_log(db, ansgar) -> list[Event]:
    """The log after a phone has sent its part of every case, and the papers were typed in."""
    assert handing_out.hand_out(db, ansgar.id, 1, FIRST_DAY, asked_signs=True, now=NOW)
    numbers = count(1)
    sent = [each for number in range(len(CASES)) for each in by_phone(number, numbers)]
    take_batch(db, ansgar.id, "a phone", [json.dumps(each).encode() for each in sent], NOW)
    days = {on_day(number): {"right": paper} for number, (_, _, paper) in enumerate(CASES)}
    typing_in.type_in(db, (ansgar.id, ansgar.public_id), OnPaper(days), "Hedda Marrow", NOW, sheet_on=FIRST_DAY)
    return entries_of(events.of_client(db, ansgar.id))


def test_paper_beside_a_phone_counts_as_a_second_phone_would_and_every_stop_on_it_stops(typed_log):
    numbers = count(1)
    every = range(len(CASES))
    sent = [each for number in every for each in (*by_phone(number, numbers), *by_a_second_phone(number, numbers))]
    wanted = facts_by_arm([decode(each) for each in sent])["right"]
    found = facts_by_arm(typed_log)["right"]
    for number, case in enumerate(CASES):
        for on in (on_day(number), on_day(number) - ONE_DAY):
            assert found.get(on) == wanted.get(on), case
        paper = case[2]
        stops = paper.sharp or max(paper.morning or 0, paper.worst or 0) >= 8
        near = (found.get(on_day(number)), found.get(on_day(number) - ONE_DAY))
        assert any(each and is_sharp(each) for each in near) == stops, case


def test_the_scripts_read_the_same_out_of_paper_beside_a_phone(ask, typed_log):
    (found,) = ask(FACTS, logs=[[msgspec.to_builtins(event) for event in typed_log]])
    assert found == by_server(typed_log)

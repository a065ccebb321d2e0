"""The acts that a restore must not undo, in the file beside the database."""

import pytest

from tests.cast import NOW
from webapp.library.routine import starter
from webapp.records import acts, devices, routines
from webapp.records.acts import PHONE_REVOKED, RESTORED, Act
from webapp.records.database import write
from webapp.records.faults import RecordsError

FIRST = [Act("a", number, PHONE_REVOKED, f"p{number}") for number in (1, 2, 3)]
SECOND = [Act("b", 3, RESTORED, "100"), Act("b", 4, PHONE_REVOKED, "p4")]


@pytest.mark.parametrize(
    ("lines", "life", "count", "expected"),
    [
        (FIRST, "a", 3, []),
        (FIRST, "a", 1, ["p2", "p3"]),
        (FIRST, "a", 0, ["p1", "p2", "p3"]),
        (FIRST + SECOND, "a", 2, ["p3", "100", "p4"]),
        (FIRST + SECOND, "b", 3, ["p4"]),
        ([], "a", 0, None),
        (FIRST, "c", 1, None),
        (FIRST, "a", 7, None),
        ([FIRST[0], FIRST[2]], "a", 1, None),
        ([FIRST[0], FIRST[2]], "a", 3, []),
    ],
    ids=[
        "nothing since", "two since", "all since", "in this life and the next", "in the next life", "no file",
        "another database's", "an older file", "a line lost", "a line lost before",
    ],
)  # fmt: skip
def test_what_was_done_since_a_copy_is_told_or_said_to_be_unknown(lines, life, count, expected):
    since = acts.since(lines, life, count)
    assert (since if since is None else [act.which for act in since]) == expected


def test_an_act_is_written_down_once_it_is_safe_and_not_when_it_fails(db, db_path, hedda, ansgar):
    with write(db):
        device, _ = devices.join(db, ansgar.id, "a phone", NOW)

    def half_done():
        with write(db):
            acts.note(db, PHONE_REVOKED, "nobody")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_done()
    devices.revoke(db, ansgar.id, device, NOW)
    devices.revoke(db, ansgar.id, device, NOW)
    written = acts.read(db_path)
    assert [(act.number, act.kind, act.which) for act in written] == [
        (0, "begun", ""),
        (1, "routine_pushed", "1"),
        (2, "phone_revoked", device),
    ]
    acts.check(db)


def test_a_line_that_the_power_cut_short_spoils_no_other(db, db_path, hedda, ansgar):
    with acts.beside(db_path).open("a") as file:
        file.write('{"life": "')
    routines.push(db, ansgar.id, starter("wrist"), {}, "", hedda.id, NOW)
    assert [act.number for act in acts.read(db_path)] == [0, 1, 2]


def test_where_the_act_cannot_be_written_down_it_is_not_said_to_be_done(db, db_path, hedda, ansgar):
    acts.beside(db_path).unlink()
    acts.beside(db_path).mkdir()
    with pytest.raises(RecordsError, match="acts_unwritten"):
        routines.push(db, ansgar.id, starter("wrist"), {}, "", hedda.id, NOW)

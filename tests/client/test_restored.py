"""A restore from a copy: nothing that was ended since the copy is valid again, nothing that a phone holds is lost."""

import hashlib
from datetime import timedelta

import pytest

from tests.builders import event, session
from tests.cast import BELL_FOUNDER, FIRST_DAY, HEDDA, NOW
from tests.client.conftest import OWN, Phone
from webapp.app import create_app
from webapp.config import Settings
from webapp.library.routine import starter
from webapp.records import acts, copies, devices, events, invitations, practitioners, routines
from webapp.records.database import open_records
from webapp.sync.caseload.checks import look

HOST = "127.0.0.1"
LATER = NOW + timedelta(hours=1)


class Served:
    """A database that is served, copied and restored."""

    def __init__(self, app, path, folder, other):
        self.app, self.path, self.folder, self.other = app, path, folder, other

    @property
    def db(self):
        return self.app.extensions["halfturn"].db()

    def copy(self):
        return copies.make_copy(self.path, self.folder, look, NOW)

    def put_back(self, copy, **other):
        """Stop the server, restore a copy, start the server again."""
        self.other.close()
        self.db.close()
        done = copies.put_back(copy, self.path, LATER, **other)
        self.app = create_app(Settings(db=self.path), lambda: LATER)
        return done.life

    def again(self, phone):
        """Return the same phone, connected to the server that runs now."""
        name = self.app.extensions["halfturn"].settings.device_cookie
        token = phone.browser.get_cookie(name, HOST).value
        same = Phone(self.app)
        same.browser.set_cookie(name, token, domain=HOST)
        same.client, same.device = phone.client, phone.device
        return same


@pytest.fixture
def served(app, db, db_path, tmp_path):
    (tmp_path / "copies").mkdir()
    return Served(app, db_path, tmp_path / "copies", db)


def _push(db, client, by, note=""):
    return routines.push(db, client.id, starter("wrist"), BELL_FOUNDER.settings, note, by.id, NOW)


def test_a_revoked_phone_stays_revoked_and_the_others_go_on_at_once(served, phone, ansgar):
    second = Phone(served.app)
    second.join(token=invitations.make_link(served.db, ansgar.id, NOW).token)
    copy = served.copy()
    devices.revoke(served.db, ansgar.id, second.device, NOW)
    life = served.put_back(copy)
    assert (life.revoked, life.to_confirm) == (1, 0)
    assert served.again(second).sync().status_code == 401
    assert served.again(phone).sync().status_code == 200


def test_where_the_acts_are_lost_each_phone_waits_to_be_confirmed_and_takes_nothing(served, phone, ansgar):
    copy = served.copy()
    acts.beside(served.path).unlink()
    assert served.put_back(copy).to_confirm == 1
    same = served.again(phone)
    answer = same.sync(session(FIRST_DAY, 1, seq=1))
    assert (answer.status_code, answer.json["error"]["code"], answer.json["error"]["again"]) == (
        503,
        "to_confirm",
        True,
    )
    assert same.browser.get("/api/me").status_code == 503
    assert events.newest_seq(served.db, ansgar.id) == 0
    devices.confirm(served.db, ansgar.id, phone.device)
    assert same.sync(session(FIRST_DAY, 1, seq=1)).json["results"][0]["status"] == "stored"


def test_a_phone_that_waits_may_leave(served, phone):
    copy = served.copy()
    served.put_back(copy, confirm_all=True)
    same = served.again(phone)
    assert same.browser.post("/api/leave", json={}, headers=OWN).status_code == 200
    assert same.sync().status_code == 401


def test_what_came_after_the_copy_comes_again_from_the_phone_each_once(served, phone, ansgar):
    sessions = [session(FIRST_DAY, 1, seq=seq) for seq in (1, 2, 3)]
    first = phone.sync(sessions[0]).json
    copy = served.copy()
    assert phone.sync(*sessions[1:], epoch=first["epoch"], cursor=1).json["cursor"] == 3
    served.put_back(copy)
    again = served.again(phone).sync(*sessions, epoch=first["epoch"], cursor=3).json
    assert again["epoch"] != first["epoch"]
    assert [each["status"] for each in again["results"]] == ["duplicate", "stored", "stored"]
    assert events.newest_seq(served.db, ansgar.id) == 3


def test_an_invitation_that_the_copy_takes_for_unused_opens_no_door(served, ansgar):
    copy = served.copy()
    assert Phone(served.app).join(token=ansgar.token).status_code == 200
    assert served.put_back(copy).withdrawn == 1
    assert Phone(served.app).join(token=ansgar.token).status_code == 400


def test_who_signed_out_is_not_signed_in_again(served, hedda):
    def door():
        browser = served.app.test_client()
        browser.set_cookie("halfturn_practice", "token", domain=HOST)
        return browser.get("/practice").status_code

    practitioners.begin_sign_in(served.db, hedda.id, _digest("token"), NOW, NOW - timedelta(days=7))
    copy = served.copy()
    assert door() == 200
    practitioners.end_sign_in(served.db, _digest("token"))
    assert door() == 303
    served.put_back(copy)
    assert door() == 303


def _digest(token):
    return hashlib.sha256(token.encode()).hexdigest()


def test_an_old_receipt_never_counts_for_a_new_routine(served, phone, ansgar, hedda):
    copy = served.copy()
    lost = _push(served.db, ansgar, hedda)
    receipt = event("routine_received", FIRST_DAY, {"version": lost.version, "bundle": "b"}, seq=9)
    assert phone.sync(receipt).json["results"][0]["status"] == "stored"
    served.put_back(copy)
    pushed = _push(served.db, ansgar, hedda, "Begin on rung 1.")
    assert (lost.version, pushed.version) == (2, 101)
    served.again(phone).sync(receipt)
    assert [version.received_on for version in routines.of_client(served.db, ansgar.id)] == [None, None]
    assert _push(served.db, ansgar, hedda).version == 102


def test_the_same_copy_put_back_twice_gives_no_number_twice(served, ansgar, hedda):
    copy = served.copy()
    served.put_back(copy)
    assert _push(served.db, ansgar, hedda).version == 101
    served.put_back(copy)
    assert _push(served.db, ansgar, hedda).version == 201


def test_where_the_acts_are_lost_too_the_clock_gives_a_number_that_was_never_used(served, ansgar, hedda):
    copy = served.copy()
    acts.beside(served.path).unlink()
    served.put_back(copy)
    # 60 days and 10 hours after the first of January 2026.
    assert _push(served.db, ansgar, hedda).version == 145_101


def test_a_version_stands_above_every_one_that_a_phone_has_told_of(served, phone, ansgar, hedda):
    phone.sync(event("routine_received", FIRST_DAY, {"version": 7, "bundle": "b"}, seq=9))
    assert _push(served.db, ansgar, hedda).version == 8
    phone.sync(event("routine_received", FIRST_DAY, {"version": 1_000_000_000, "bundle": "b"}, seq=10))
    assert _push(served.db, ansgar, hedda).version == 9, "a number beyond belief says nothing"


def test_the_replaced_database_is_kept_whole_beside(served, phone, ansgar):
    copy = served.copy()
    phone.sync(session(FIRST_DAY, 1, seq=1))
    served.put_back(copy)
    (kept,) = (each for each in served.path.parent.glob("*.replaced-*") if not each.name.endswith(".acts"))
    old = open_records(kept)
    assert events.newest_seq(old, ansgar.id) == 1
    assert {act.kind for act in acts.read(kept)} == {"begun", "invitation_ended", "routine_pushed"}
    assert HEDDA.name in str(old.execute("SELECT name FROM practitioners").fetchall())

from datetime import timedelta

import pytest

from tests.cast import BELL_FOUNDER, NOW
from webapp.library.routine import starter
from webapp.records import bundles, derived, devices, epoch, folded, guidance, routines, summaries
from webapp.records.bundles import StoredBundle
from webapp.records.database import write
from webapp.records.folded import Folded
from webapp.records.guidance import StoredGuidance
from webapp.records.summaries import StoredSummary

A_YEAR_BEFORE = NOW - timedelta(days=365)


def _join(db, client, name="phone"):
    with write(db):
        return devices.join(db, client, name, NOW)


def _bearer(db, token, seen_after=A_YEAR_BEFORE, joined_after=A_YEAR_BEFORE):
    return devices.bearer_of(db, token, seen_after, joined_after)


def test_a_token_leads_to_its_own_client(db, ansgar, isaura):
    device, token = _join(db, ansgar.id)
    _join(db, isaura.id)
    who = _bearer(db, token)
    assert (who.client, who.client_id, who.device.id) == (ansgar.id, ansgar.public_id, device)


def test_a_token_is_stored_only_as_a_hash(db, ansgar):
    _, token = _join(db, ansgar.id)
    rows = db.execute("SELECT * FROM devices").fetchall()
    assert token not in str(rows)
    assert _bearer(db, token[:-1] + "x") is None


def test_a_revoked_idle_or_old_phone_is_nobody(db, ansgar):
    device, token = _join(db, ansgar.id)
    assert _bearer(db, token, seen_after=NOW) is None
    assert _bearer(db, token, joined_after=NOW) is None
    devices.revoke(db, ansgar.id, device, NOW)
    assert _bearer(db, token) is None
    assert devices.of_client(db, ansgar.id) == []


def test_the_phones_of_a_client_who_has_ended_are_nobody(db, ansgar):
    _, token = _join(db, ansgar.id)
    with write(db):
        db.execute("UPDATE clients SET ended_at = ? WHERE id = ?", ("2026-03-02T00:00:00.000Z", ansgar.id))
    assert _bearer(db, token) is None


def test_a_phone_cannot_be_revoked_through_another_client(db, ansgar, isaura):
    device, token = _join(db, ansgar.id)
    devices.revoke(db, isaura.id, device, NOW)
    assert _bearer(db, token) is not None


def test_versions_count_up_for_each_client(db, hedda, ansgar, isaura):
    pushed = routines.push(db, ansgar.id, starter("wrist"), BELL_FOUNDER.settings, "Gently.", hedda.id, NOW)
    assert pushed.version == 2
    assert routines.latest(db, ansgar.id) == pushed
    assert routines.latest(db, isaura.id).version == 1
    assert [version.version for version in routines.of_client(db, ansgar.id)] == [2, 1]
    assert routines.find(db, isaura.id, 2) is None


def test_a_push_on_top_of_another_one_than_was_seen_is_noticed(db, hedda, ansgar):
    first = routines.latest(db, ansgar.id)
    routines.check_follows(db, ansgar.id, first)
    second = routines.push(db, ansgar.id, {}, {}, "", hedda.id, NOW)
    routines.check_follows(db, ansgar.id, second)
    for seen in (first, None):
        with pytest.raises(routines.OvertakenError):
            routines.check_follows(db, ansgar.id, seen)


def test_the_earliest_day_a_version_was_received_stands(db, ansgar):
    for on_day, minutes in (("2026-03-05", 0), ("2026-03-04", 5), ("2026-03-06", 9)):
        with write(db):
            routines.note_received(db, ansgar.id, 1, on_day, NOW + timedelta(minutes=minutes))
    received = routines.find(db, ansgar.id, 1)
    assert received.received_on == "2026-03-04"
    assert received.received_at == "2026-03-02T09:30:00.000Z"


def test_a_new_epoch_is_everybody_s_and_comes_with_a_new_key(db, ansgar, isaura):
    before, key = epoch.of_client(db, ansgar.id), epoch.secret_key(db)
    assert epoch.of_client(db, isaura.id) == before
    with write(db):
        epoch.renew(db)
    assert epoch.of_client(db, ansgar.id) == epoch.of_client(db, isaura.id) != before
    assert len(epoch.secret_key(db)) == 64
    assert epoch.secret_key(db) != key


def test_one_client_may_get_a_new_epoch_alone(db, ansgar, isaura):
    before = epoch.of_client(db, ansgar.id)
    assert epoch.renew_for(db, ansgar.id) != before
    assert epoch.of_client(db, isaura.id) == before


def test_what_another_program_worked_out_is_dropped_and_our_own_kept(db, ansgar):
    derived.drop_unless_made_by(db, "this program")
    bundles.keep(db, StoredBundle(ansgar.id, 1, "en", "hash", "[]", b"", b""), NOW)
    with write(db):
        folded.keep(db, ansgar.id, Folded(3, "2026-03-02", "{}"))
        summaries.keep(db, [StoredSummary(ansgar.id, 0, 1, "{}")])
        guidance.keep(db, StoredGuidance(ansgar.id, "en", "2026-03-02", 0, 1, "hash", "{}"))
    assert not derived.drop_unless_made_by(db, "this program")
    assert folded.find(db, ansgar.id) == Folded(3, "2026-03-02", "{}")
    assert len(summaries.not_stale(db)) == 1
    assert guidance.find(db, ansgar.id, "en", "2026-03-02", 0)
    assert derived.drop_unless_made_by(db, "another program")
    assert folded.find(db, ansgar.id) is None
    for table in derived.TABLES:
        assert db.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0] == 0, table

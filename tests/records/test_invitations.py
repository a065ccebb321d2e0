from datetime import timedelta
from itertools import product

import pytest

from tests.cast import NOW
from webapp.records import invitations
from webapp.records.database import instant, write
from webapp.records.invitations import CODE_LETTERS, CODE_SELECTOR_LENGTH, LINK_SELECTOR_LENGTH


def test_a_link_holds_a_secret_of_128_bits_that_is_stored_only_as_a_hash(db, ansgar):
    token = invitations.make_link(db, ansgar.id, NOW).token
    found = invitations.find(db, token[:LINK_SELECTOR_LENGTH])
    secret = token[LINK_SELECTOR_LENGTH:]
    assert len(secret) * 6 >= 128
    assert secret not in found.secret_hash
    assert invitations.is_secret_of_link(found, secret)
    assert not invitations.is_secret_of_link(found, secret[:-1])


def test_a_code_has_eight_letters_that_spell_nothing_and_is_hashed_slowly(db, ansgar):
    code = invitations.make_code(db, ansgar.id, NOW).code
    letters = code.replace("-", "")
    assert len(letters) == 8
    assert set(letters) <= set(CODE_LETTERS)
    assert not set(CODE_LETTERS) & set("AEIOUY0125")
    found = invitations.find(db, letters[:CODE_SELECTOR_LENGTH])
    assert found.secret_hash.startswith("$argon2id$")
    assert invitations.is_secret_of_code(found, letters[CODE_SELECTOR_LENGTH:])
    assert not invitations.is_secret_of_code(found, "BBBBB" if letters[CODE_SELECTOR_LENGTH:] != "BBBBB" else "CCCCC")


def test_a_new_code_ends_the_one_before_and_leaves_links_alone(db, ansgar):
    first = invitations.make_code(db, ansgar.id, NOW).code
    invitations.make_code(db, ansgar.id, NOW)
    kinds = [invitation.kind for invitation in invitations.open_of(db, ansgar.id, NOW)]
    assert sorted(kinds) == ["code", "link"]
    found = invitations.find(db, first[:CODE_SELECTOR_LENGTH])
    assert found is None or not invitations.is_secret_of_code(found, first.replace("-", "")[CODE_SELECTOR_LENGTH:])


def test_an_invitation_is_used_once(db, ansgar):
    invitation = invitations.open_of(db, ansgar.id, NOW)[0]
    with write(db):
        assert invitations.use(db, invitation.id, NOW)
        assert not invitations.use(db, invitation.id, NOW)
    assert invitations.open_of(db, ansgar.id, NOW) == []


def test_links_last_days_and_codes_minutes(db, ansgar):
    invitations.make_code(db, ansgar.id, NOW)
    assert len(invitations.open_of(db, ansgar.id, NOW)) == 2
    assert [invitation.kind for invitation in invitations.open_of(db, ansgar.id, NOW + timedelta(minutes=11))] == [
        "link"
    ]
    assert invitations.open_of(db, ansgar.id, NOW + timedelta(days=15)) == []


def test_only_the_own_client_can_have_an_invitation_withdrawn(db, ansgar, isaura):
    mine = invitations.open_of(db, ansgar.id, NOW)[0]
    invitations.withdraw(db, isaura.id, mine.id)
    assert invitations.open_of(db, ansgar.id, NOW) == [mine]
    invitations.withdraw(db, ansgar.id, mine.id)
    assert invitations.open_of(db, ansgar.id, NOW) == []


def _fill_every_selector(db, client, expires_at):
    selectors = ("".join(letters) for letters in product(CODE_LETTERS, repeat=CODE_SELECTOR_LENGTH))
    with write(db):
        db.conn.executemany(
            "INSERT INTO invitations (client, kind, selector, secret_hash, made_at, expires_at)"
            " VALUES (?, 'code', ?, '', '', ?)",
            [(client, selector, instant(expires_at)) for selector in selectors],
        )


def test_a_selector_is_used_again_once_its_code_is_over(db, ansgar, isaura):
    _fill_every_selector(db, isaura.id, expires_at=NOW)
    assert invitations.make_code(db, ansgar.id, NOW).code


def test_a_selector_is_never_taken_from_a_code_that_is_open(db, ansgar, isaura):
    _fill_every_selector(db, isaura.id, expires_at=NOW + timedelta(minutes=1))
    with pytest.raises(LookupError):
        invitations.make_code(db, ansgar.id, NOW)

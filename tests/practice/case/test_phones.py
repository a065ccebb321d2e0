"""Inviting and revoking phones."""

import re
from datetime import timedelta

import pytest

from tests.builders import event
from tests.cast import BELL_FOUNDER, FIRST_DAY
from webapp.library.routine import starter
from webapp.records import devices, invitations, routines
from webapp.records.database import write

CASE = "/practice/cases/ansgar0001"


def _invite(hedda, kind: str):
    hedda.open(CASE)
    return hedda.fill("/invite", {"kind": kind}, post_to=f"{CASE}/invite")


def test_a_link_is_shown_once_with_a_square_code_and_its_secret_only_in_the_fragment(site, hedda):
    _invite(hedda, "link")
    link = re.search(r'value="(http[^"]+)"', hedda.page.text)[1]
    assert link.startswith("http://127.0.0.1:8765/join#")
    assert 'src="data:image/svg+xml' in hedda.page.text
    token = link.partition("#")[2]
    assert token not in hedda.open(CASE).text
    selector = token[: invitations.LINK_SELECTOR_LENGTH]
    found = invitations.find(site.db, selector)
    assert found.client == site.founder.id
    assert invitations.is_secret_of_link(found, token[invitations.LINK_SELECTOR_LENGTH :])


def test_a_short_code_is_shown_with_the_address_and_ten_minutes(site, hedda):
    _invite(hedda, "code")
    code = re.search(r">([A-Z]{4}-[A-Z]{4})<", hedda.page.text)[1]
    assert "within ten minutes: until 09:40 UTC" in hedda.text
    assert "http://127.0.0.1:8765/join" in hedda.text
    plain = code.replace("-", "")
    found = invitations.find(site.db, plain[: invitations.CODE_SELECTOR_LENGTH])
    assert (found.client, found.kind) == (site.founder.id, "code")
    assert found.expires_at == invitations.instant(site.clock() + timedelta(minutes=10))


def test_an_unknown_kind_of_invitation_is_refused(hedda):
    assert _invite(hedda, "pigeon").status_code == 400


def test_a_revoked_phone_can_no_longer_speak_and_the_case_shows_it_no_more(site, hedda):
    phone = site.join_phone(site.founder, "Blue phone")
    assert "Blue phone" in hedda.open(CASE).text
    hedda.fill(f"/phones/{phone}/revoke", {}, post_to=f"{CASE}/phones/{phone}/revoke")
    assert 'The phone "Blue phone" can no longer read or send' in hedda.text
    assert devices.of_client(site.db, site.founder.id) == []


@pytest.mark.parametrize("owner", ["cellist", "organ_builder"])
def test_a_phone_of_another_client_cannot_be_revoked_from_this_case(site, hedda, owner):
    other = getattr(site, owner)
    phone = site.join_phone(other)
    hedda.open(CASE)
    assert hedda.fill("/invite", {}, post_to=f"{CASE}/phones/{phone}/revoke").status_code == 404
    assert [each.id for each in devices.of_client(site.db, other.id)] == [phone]


def test_an_invitation_can_be_taken_back_until_it_is_used(site, hedda):
    _invite(hedda, "link")
    newest, *others = invitations.open_of(site.db, site.founder.id, site.clock())
    withdraw = f"{CASE}/invitations/{newest.id}/withdraw"
    assert withdraw in hedda.open(CASE).text
    hedda.fill("/invite", {}, post_to=withdraw)
    assert invitations.open_of(site.db, site.founder.id, site.clock()) == others
    assert withdraw not in hedda.open(CASE).text


def test_an_invitation_of_another_practitioners_client_is_not_taken_back(site, hedda):
    made = invitations.make_link(site.db, site.organ_builder.id, site.clock())
    other, *_ = invitations.open_of(site.db, site.organ_builder.id, site.clock())
    hedda.open(CASE)
    hedda.fill("/invite", {}, post_to=f"{CASE}/invitations/{other.id}/withdraw")
    assert invitations.find(site.db, made.token[: invitations.LINK_SELECTOR_LENGTH]) is not None


def _have_confirmed(db):
    with write(db):
        db.execute("UPDATE devices SET to_confirm = 1")


def test_a_phone_to_confirm_is_shown_on_the_caseload_and_confirmed_on_the_case_page(site, hedda):
    phone = site.join_phone(site.founder, "Blue phone")
    _have_confirmed(site.db)
    hedda.open("/practice")
    assert "A phone waits for you to confirm it" in hedda.text
    hedda.open(CASE)
    assert "can neither read nor send" in hedda.text
    hedda.fill(f"/phones/{phone}/confirm", {}, post_to=f"{CASE}/phones/{phone}/confirm")
    assert 'The phone "Blue phone" is confirmed' in hedda.text
    assert "to confirm" not in hedda.text
    assert [each.to_confirm for each in devices.of_client(site.db, site.founder.id)] == [0]


def test_a_phone_of_another_client_cannot_be_confirmed_from_this_case(site, hedda):
    phone = site.join_phone(site.organ_builder)
    _have_confirmed(site.db)
    hedda.open(CASE)
    assert hedda.fill("/invite", {}, post_to=f"{CASE}/phones/{phone}/confirm").status_code == 404
    assert [each.to_confirm for each in devices.of_client(site.db, site.organ_builder.id)] == [1]


def test_a_version_that_a_phone_has_and_the_records_lack_is_said_until_another_is_pushed(site, hedda):
    site.receive(site.founder, [event("routine_received", FIRST_DAY, {"version": 7, "bundle": ""}, seq=900)])
    hedda.open(CASE)
    assert "A phone received version 7, but these records do not have that version" in hedda.text
    assert "now follows version 1" in hedda.text
    routines.push(site.db, site.founder.id, starter("wrist"), BELL_FOUNDER.settings, "", site.hedda.id, site.clock())
    hedda.open(CASE)
    assert "these records do not have that version" not in hedda.text
    assert "Version 8" in hedda.text


def test_going_back_to_an_invitation_shows_it_again_in_that_browser_and_makes_no_other(site, hedda, visitor):
    hedda.open(CASE)
    address = hedda.fill("/invite", {"kind": "link"}, post_to=f"{CASE}/invite", follow=False).headers["Location"]
    first, again = hedda.open(address).text, hedda.open(address).text
    link = re.search(r'value="(http[^"]+)"', first).group(1)
    assert link in again
    assert len(invitations.open_of(site.db, site.founder.id, site.clock())) == 2, "one of the cast, and this one"
    assert hedda.open(f"/practice/cases/{site.cellist.public_id}/invitation").status_code == 303
    token = hedda.client.get(CASE).text.partition('name="csrf_token" value="')[2].partition('"')[0]
    hedda.send("/practice/sign-out", {"csrf_token": token})
    assert link not in hedda.open(address).text

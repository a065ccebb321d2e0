"""A link for another password needs the recovery code that only its owner was shown; and whatever happened, they see."""

import os
import re
import subprocess
import sys

import pytest

from tests.builders import let_in
from tests.cast import HEDDA
from tests.practice.staff.conftest import SIGNE, signed_in
from tests.rules.tree import ROOT
from webapp.practice.door import recovery_code
from webapp.practice.door.welcome import WRONG_CODES
from webapp.records import history, members, practitioners, recovery
from webapp.sync.limits.tries import Guard
from webapp.words.catalogue import words_for
from webapp.words.history import deed_text

OTHER = "seven wet stones in a row"
CODE = "BCDF-GHJK-LMNP-QRST"


def _code_on(page) -> str:
    return re.search(r'class="code code-long" translate="no">([A-Z-]+)<', page.text).group(1)


def _added(site) -> int:
    return members.add(site.db, site.hedda.practice, SIGNE.name, SIGNE.email, site.clock())


def _made_link(site, member: int) -> str:
    return f"/practice/welcome/{members.make_link(site.db, member, site.clock(), site.hedda.id).token}"


def _set_by(visitor, link: str, password: str, **more: str):
    visitor.open(link)
    return visitor.fill("", {"new_password": password, "once_more": password, **more}, post_to=link)


def test_the_code_is_shown_until_it_is_written_down_and_then_nowhere(site, signe):
    _, visitor, code = signe
    assert code in visitor.open("/practice/account/code").text
    visitor.fill("/written", {}, post_to="/practice/account/code/written")
    assert "Nobody here yet" in visitor.text
    assert visitor.open("/practice/account/code").status_code == 303
    assert visitor.send("/practice/account/code/written", {}).status_code == 303


@pytest.fixture
def signe(site):
    """A member who came by a link and has been shown a recovery code: the key, the visitor, the code."""
    member, visitor = _added(site), site.visitor()
    code = _code_on(_set_by(visitor, _made_link(site, member), SIGNE.password))
    return member, visitor, code


def test_the_owners_link_alone_makes_nobody_the_member(site, signe):
    member, visitor, _ = signe
    link, owner = _made_link(site, member), site.visitor()
    assert "Sixteen letters." in owner.open(link).text
    assert "this is needed" in _set_by(owner, link, OTHER).text
    assert _set_by(owner, link, OTHER, recovery_code=CODE).status_code == 400
    assert "This is not your recovery code" in owner.text
    # Half a request, as from a form without the field.
    entries = owner.form()
    del entries["recovery_code"]
    assert owner.send(link, {**entries.to_dict(), "new_password": OTHER, "once_more": OTHER}).status_code == 400
    assert owner.open("/practice").status_code == 303
    assert visitor.open("/practice").status_code == 200
    assert site.visitor().sign_in(SIGNE.email, SIGNE.password).status_code == 303


def test_with_the_code_the_link_sets_a_password_and_the_code_counts_once(site, signe):
    member, visitor, code = signe
    again = site.visitor()
    page = _set_by(again, _made_link(site, member), OTHER, recovery_code=code.lower().replace("-", " "))
    assert page.status_code == 200
    assert _code_on(page) != code
    assert visitor.open("/practice").status_code == 303
    assert site.visitor().sign_in(SIGNE.email, OTHER).status_code == 303
    assert (
        _set_by(site.visitor(), _made_link(site, member), "three grey doves there", recovery_code=code).status_code
        == 400
    )


def test_codes_are_not_guessed(site, signe):
    link, guesser = _made_link(site, signe[0]), site.visitor()
    for _ in range(9):
        site.app.extensions["halfturn"].tries.fail(Guard(WRONG_CODES, ("recovery code", str(signe[0]))))
    assert "This is not your recovery code" in _set_by(guesser, link, OTHER, recovery_code=CODE).text
    assert _set_by(guesser, link, OTHER, recovery_code=signe[2]).status_code == 400
    assert "Too many wrong ones. Wait 15 minutes." in guesser.text
    site.clock.pass_by(minutes=16)
    assert _set_by(guesser, link, OTHER, recovery_code=signe[2]).status_code == 200


def test_the_member_sees_on_every_page_who_made_a_link_until_they_know_of_it(site, signe):
    member, visitor, _ = signe
    assert "Your password" not in visitor.open("/practice").text
    _made_link(site, member)
    for path in ("/practice", "/practice/groups"):
        assert "Hedda Marrow made a link for a new password of yours." in visitor.open(path).text
    visitor.fill("/seen", {}, post_to="/practice/account/password/seen")
    assert "Your password" not in visitor.open("/practice").text
    assert "Hedda Marrow made a link" in visitor.open("/practice/account/password").text


def test_who_has_a_password_and_no_code_gets_no_link(site, hedda):
    member = _added(site)
    let_in(site.db, member, site.clock())
    with pytest.raises(members.NoCodeError):
        members.make_link(site.db, member, site.clock())
    assert "halfturn practitioner password --email signe@marrow.example" in hedda.open(f"/practice/staff/{member}").text
    token = {"csrf_token": hedda.form("/sign-out")["csrf_token"]}
    hedda.send(f"/practice/staff/{member}/link", token, follow=True)
    assert "No link was made" in hedda.text


def test_one_sets_another_password_with_the_present_one_and_other_browsers_are_signed_out(site, visitor):
    visitor.sign_in(HEDDA.email, HEDDA.password)
    other = signed_in(site, site.hedda.id)
    path, wanted = "/practice/account/password", {"new_password": OTHER, "once_more": OTHER}
    assert "You have no recovery code yet." in visitor.open(path).text
    assert visitor.fill("", {**wanted, "present_password": "wrong"}, post_to=path).status_code == 400
    assert "This is not your present password" in visitor.text
    page = visitor.fill("", {**wanted, "present_password": HEDDA.password}, post_to=path)
    assert recovery_code.is_code(recovery.code_hash_of(site.db, site.hedda.id), _code_on(page))
    assert other.open("/practice").status_code == 303
    assert visitor.open("/practice").status_code == 200
    assert "You set another password." in visitor.open(path).text
    assert site.visitor().sign_in(HEDDA.email, OTHER).status_code == 303


def test_whoever_runs_the_server_sets_a_password_where_the_only_owner_lost_hers_and_she_sees_it(site, hedda):
    command = [
        sys.executable,
        "-m",
        "webapp.cli",
        "practitioner",
        "password",
        "--email",
        HEDDA.email,
        "--password-stdin",
    ]
    environ = {**os.environ, "HALFTURN_DB": str(site.db.path)}
    done = subprocess.run(
        command, check=True, capture_output=True, text=True, input=f"{OTHER}\n", env=environ, cwd=ROOT, timeout=60
    )
    code = re.search(r"[A-Z]{4}(-[A-Z]{4}){3}", done.stdout).group()
    assert hedda.open("/practice").status_code == 303
    again = site.visitor()
    assert again.sign_in(HEDDA.email, OTHER).status_code == 303
    assert "Another password was set by whoever runs the server." in again.open("/practice").text
    assert recovery_code.is_code(recovery.code_hash_of(site.db, site.hedda.id), code)
    acts = [deed.act for deed in history.of_practice(site.db, site.hedda.practice, 1 << 53, 9)]
    assert "was given another password, by whoever runs the server" in [deed_text(words_for("en"), act) for act in acts]


def test_after_a_restore_that_knows_no_acts_a_member_needs_the_code_too(site, signe):
    member = signe[0]
    members.forget_passwords(site.db)
    site.db.conn.commit()
    link = _made_link(site, member)
    assert _set_by(site.visitor(), link, OTHER).status_code == 400
    assert _set_by(site.visitor(), link, OTHER, recovery_code=signe[2]).status_code == 200
    assert practitioners.with_password(site.db, SIGNE.email) is not None

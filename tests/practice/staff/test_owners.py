"""A second owner: made by an owner, or by whoever runs the server; the last one stays, and a restore undoes nothing."""

import pytest

from tests.cast import HEDDA
from webapp.cli import main
from webapp.records import acts, history, new_life, owners, practices, practitioners
from webapp.records.database import Database
from webapp.records.owners import LastOwnerError
from webapp.words.catalogue import words_for
from webapp.words.history import deed_text


def _press(visitor, colleague: int, act: str):
    visitor.open(f"/practice/staff/{colleague}")
    return visitor.fill(f"/{act}", {}, post_to=f"/practice/staff/{colleague}/{act}")


def _roles(site) -> dict[str, str]:
    return {each.name: each.role for each in practices.colleagues(site.db, site.hedda.practice)}


def test_an_owner_makes_a_member_an_owner_and_back_and_the_history_says_so(site, hedda, colleague):
    assert colleague.visitor.open("/practice/staff/add").status_code == 404
    _press(hedda, colleague.id, "make-owner")
    assert "Signe Aldin is an owner from now on." in hedda.text
    assert colleague.visitor.open("/practice/staff/add").status_code == 200
    _press(hedda, colleague.id, "make-member")
    assert colleague.visitor.open("/practice/staff/add").status_code == 404
    deeds = [deed.act for deed in history.of_practice(site.db, site.hedda.practice, 1 << 53, 9)]
    assert deeds[:2] == ["practice.staff.make_member", "practice.staff.make_owner"]
    assert "made a colleague an owner" in hedda.open("/practice/staff/history").text


def test_the_only_owner_stays_one_and_is_told_why(site, hedda, colleague):
    assert "The only owner" in hedda.open(f"/practice/staff/{site.hedda.id}").text
    hedda.open("/practice/staff")
    token = {"csrf_token": hedda.form("/sign-out")["csrf_token"]}
    hedda.send(f"/practice/staff/{site.hedda.id}/make-member", token, follow=True)
    assert "is the only owner who can sign in, so nothing was changed" in hedda.text
    assert history.of_practice(site.db, site.hedda.practice, 1 << 53, 9) == []
    assert _roles(site)[HEDDA.name] == "owner"


def test_two_owners_who_take_each_other_the_role_away_leave_one(site, colleague):
    house = site.hedda.practice
    owners.set_role(site.db, house, colleague.id, "owner")
    assert owners.set_role(site.db, house, site.hedda.id, "member") is True
    with pytest.raises(LastOwnerError):
        owners.set_role(site.db, house, colleague.id, "member")
    assert _roles(site) == {HEDDA.name: "member", "Signe Aldin": "owner"}


def test_an_owner_who_leaves_the_role_sees_what_a_member_sees(site, hedda, colleague):
    _press(hedda, colleague.id, "make-owner")
    _press(hedda, site.hedda.id, "make-member")
    assert "The owner sets these" in hedda.text
    assert hedda.open(f"/practice/staff/{colleague.id}").status_code == 404


def test_nobody_but_an_owner_of_the_practice_gives_a_role_and_who_has_no_password_gets_none(
    site, hedda, jonas, colleague
):
    for visitor in (colleague.visitor, jonas):
        for act in ("make-owner", "make-member"):
            assert visitor.send(f"/practice/staff/{colleague.id}/{act}", {}).status_code == 404
    site.db.execute("UPDATE practitioners SET password_hash = '' WHERE id = ?", (colleague.id,))
    site.db.conn.commit()
    assert "make-owner" not in hedda.open(f"/practice/staff/{colleague.id}").text
    assert owners.set_role(site.db, site.hedda.practice, colleague.id, "owner") is False


def test_a_restore_takes_a_role_away_again_but_never_the_last_owners(site, colleague, tmp_path):
    house = site.hedda.practice
    owners.set_role(site.db, house, colleague.id, "owner")
    copies = [Database(tmp_path / f"{number}.db", "rwc") for number in range(2)]
    site.db.conn.backup(copies[0].conn)
    owners.set_role(site.db, house, colleague.id, "member")
    new_life.begin(copies[0], acts.read(site.db.path), site.clock())
    assert practices.colleague(copies[0], house, colleague.id).role == "member"
    site.db.conn.backup(copies[1].conn)
    copies[1].execute("DELETE FROM group_members")
    owners.set_role_again(copies[1], f"{site.hedda.id} member")
    assert practitioners.find(copies[1], site.hedda.id).is_owner


def test_whoever_runs_the_server_makes_an_owner_where_no_owner_can(site, colleague, capsys):
    environ = {"HALFTURN_DB": str(site.db.path)}
    arguments = ["practitioner", "role", "--email", "Signe@marrow.example", "--role", "owner"]
    assert main(arguments, environ) == 0
    assert "Signe Aldin is an owner of Hedda Marrow." in capsys.readouterr().out
    assert main(["practitioner", "role", "--email", HEDDA.email, "--role", "member"], environ) == 0
    assert main(["practitioner", "role", "--email", "signe@marrow.example", "--role", "member"], environ) == 2
    assert "only owner" in capsys.readouterr().err
    assert main(["practitioner", "role", "--email", "nobody@marrow.example", "--role", "owner"], environ) == 2
    assert _roles(site) == {HEDDA.name: "member", "Signe Aldin": "owner"}
    deeds = history.of_practice(site.db, site.hedda.practice, 1 << 53, 9)
    assert [(deed.who, deed_text(words_for("en"), deed.act)) for deed in deeds] == [
        (HEDDA.name, "was made a member, by whoever runs the server"),
        ("Signe Aldin", "was made an owner, by whoever runs the server"),
    ]

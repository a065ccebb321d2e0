"""How a colleague comes into the practice, and how they leave it."""

import re
from datetime import timedelta

from tests.practice.staff.conftest import SIGNE
from tests.practice.visitor import HEADERS
from webapp.library.routine import starter
from webapp.records import groups, members, practices, practitioners

PASSWORD = "three herons over the weir"


def _added(hedda, email=SIGNE.email):
    hedda.open("/practice/staff/add")
    page = hedda.fill("", {"colleague-name": SIGNE.name, "colleague-email": email}, post_to="/practice/staff/add")
    found = re.search(r"http://[^\"]+(/practice/welcome/[\w-]+)", page.text)
    return found and found.group(1)


def _welcomed(site, link, password=PASSWORD, again=PASSWORD):
    newcomer = site.visitor()
    newcomer.open(link)
    newcomer.fill("", {"new_password": password, "once_more": again}, post_to=link)
    if newcomer.page.status_code == 200:
        assert "Your recovery code" in newcomer.text
        newcomer.fill("/written", {}, post_to="/practice/account/code/written")
    return newcomer


def test_an_owner_adds_a_member_who_sets_a_password_by_the_link_once(site, hedda):
    link = _added(hedda)
    assert site.visitor().sign_in(SIGNE.email, "nobody has this password").status_code == 403
    newcomer = _welcomed(site, link)
    assert "Nobody here yet" in newcomer.text
    assert "Ansgar" not in newcomer.text
    assert site.visitor().sign_in(SIGNE.email, PASSWORD).status_code == 303
    assert "lets nobody in" in site.visitor().open(link).text
    assert "lets nobody in" in site.visitor().open(f"{link}x").text


def test_a_password_that_is_short_or_typed_differently_is_refused_beside_its_field(site, hedda):
    link = _added(hedda)
    assert "characters are too few" in _welcomed(site, link, "short", "short").text
    assert "The two passwords differ" in _welcomed(site, link, again="three herons over the dam").text
    assert site.visitor().open(link).status_code == 200


def test_a_link_is_over_after_a_week_and_a_new_one_ends_the_earlier(site, hedda):
    first = _added(hedda)
    member = practices.colleagues(site.db, site.hedda.practice)[1]
    hedda.open(f"/practice/staff/{member.id}")
    page = hedda.fill("/link", {}, post_to=f"/practice/staff/{member.id}/link").text
    second = re.search(r"http://[^\"]+(/practice/welcome/[\w-]+)", page).group(1)
    assert site.visitor().open(first).status_code == 404
    site.clock.pass_by(days=8)
    assert site.visitor().open(second).status_code == 404


def test_an_address_that_is_taken_is_refused_and_what_was_typed_stays(hedda):
    hedda.open("/practice/staff/add")
    page = hedda.fill(
        "", {"colleague-name": "Sig", "colleague-email": "Jonas@Reck.example"}, post_to="/practice/staff/add"
    )
    assert page.status_code == 409
    assert "belongs to an account already" in page.text
    assert hedda.form()["colleague-email"] == "Jonas@Reck.example"


def test_a_member_adds_and_removes_nobody(site, colleague):
    for path in (
        "/practice/staff/add",
        f"/practice/staff/{site.hedda.id}/remove",
        f"/practice/staff/{colleague.id}/link",
    ):
        assert colleague.visitor.send(path, {}).status_code == 404
    assert colleague.visitor.open("/practice/staff/add").status_code == 404
    assert colleague.visitor.send("/practice/staff", {}).status_code == 404


def test_whoever_still_has_clients_is_not_removed(site, hedda, colleague):
    path = f"/practice/staff/{colleague.id}"
    assert "First hand over every client" in hedda.open(path).text
    hedda.fill("/sign-out", {}, post_to=f"{path}/remove")
    assert "still has clients, so nothing was changed" in hedda.text
    assert colleague.visitor.open("/practice").status_code == 200


def test_who_is_removed_is_out_at_once_and_may_be_added_again(site, hedda):
    newcomer = _welcomed(site, _added(hedda))
    member = practices.colleagues(site.db, site.hedda.practice)[1]
    hedda.open(f"/practice/staff/{member.id}")
    hedda.fill("/remove", {}, post_to=f"/practice/staff/{member.id}/remove")
    assert "no longer works here" in hedda.text
    assert newcomer.open("/practice").status_code == 303
    assert site.visitor().sign_in(SIGNE.email, PASSWORD).status_code == 403
    assert "Nobody here yet" in _welcomed(site, _added(hedda)).text


def test_nobody_joins_by_the_group_of_somebody_who_was_removed(site):
    member = members.add(site.db, site.hedda.practice, SIGNE.name, SIGNE.email, site.clock())
    until = site.clock() + timedelta(days=9)
    groups.make(site.db, groups.NewGroup(member, "Class", "en", starter("wrist"), 9, until, ""), "key", site.clock())
    token = groups.of_practitioner(site.db, member)[0].token
    members.remove(site.db, site.hedda.practice, member, site.clock())
    answer = site.app.test_client().post("/api/join", json={"token": token}, headers=HEADERS)
    assert (answer.status_code, groups.by_token(site.db, token).joined) == (410, 0)


def test_an_owner_cannot_remove_themselves(site, hedda):
    hedda.open(f"/practice/staff/{site.hedda.id}")
    site.db.execute("DELETE FROM events")
    assert "Remove from the practice" not in hedda.page.text
    entries = {"csrf_token": hedda.form("/sign-out")["csrf_token"]}
    hedda.send(f"/practice/staff/{site.hedda.id}/remove", entries)
    assert practitioners.with_password(site.db, "hedda@marrow.example") is not None


def test_an_owner_is_never_shut_out_even_without_clients(site):
    site.db.execute("UPDATE clients SET ended_at = ?", (site.clock().isoformat(),))
    site.db.conn.commit()
    members.remove(site.db, site.hedda.practice, site.hedda.id, site.clock())
    assert practitioners.with_password(site.db, "hedda@marrow.example") is not None

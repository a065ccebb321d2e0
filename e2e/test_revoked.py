"""A phone that the practitioner has signed out: it sends nothing more and keeps every entry, until it is linked again."""

from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import InvitationPage
from e2e.phone import ALL_SENT
from e2e.screens import CodeScreen, PhoneScreen
from tests.cast import BELL_FOUNDER


def test_a_revoked_phone_keeps_its_entries_and_sends_them_once_linked_again(desk, practice, one_phone, server, joined):
    phone = one_phone
    client = joined(phone, BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.unfold("phones")
    hedda.case.revoke_asked.click()
    hedda.case.revoke.click()
    known = len(practice.log(client.id))

    server.kill()
    phone.skip_session(worst=2)
    server.start()
    screen = PhoneScreen(phone.page)
    screen.open()
    with phone.page.expect_response("**/api/sync") as answer:
        screen.send.tap()
    assert answer.value.status == 401
    kept = phone.log()
    assert kept["unsent"] >= 1
    assert "session_finished" in kept["kinds"]
    assert len(practice.log(client.id)) == known

    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.make_code.click()
    phone.page.goto("/app/en/#join")
    CodeScreen(phone.page).code.fill(InvitationPage(hedda.page).code.inner_text())
    CodeScreen(phone.page).link.tap()
    phone.page.wait_for_url("**#day")
    screen.open()
    screen.send.tap()
    expect(screen.waiting).to_have_text(ALL_SENT)
    assert sorted(phone.log()["ids"]) == sorted(event["id"] for event in practice.log(client.id))
    assert set(kept["ids"]) <= set(phone.log()["ids"])

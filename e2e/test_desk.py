"""The practitioner's side: signing in, taking a client on, pushing a routine, and seeing that the phone has it."""

from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.screens import InvitationPage, SignInPage
from tests.cast import BELL_FOUNDER, HEDDA


def test_a_wrong_password_lets_nobody_in(desk, practice):
    page = desk.new_page()
    page.goto("/practice/")
    door = SignInPage(page)
    door.email.fill(HEDDA.email)
    door.password.fill("not her password at all")
    door.enter.click()
    expect(door.password).to_be_visible()
    page.goto("/practice/")
    expect(door.password).to_be_visible()


def test_a_new_client_gets_a_routine_by_code_and_then_a_changed_one(desk, practice, phone):
    hedda = Desk.signed_in(desk)
    hedda.take_on(BELL_FOUNDER)
    hedda.push("Filing arm, first weeks")
    expect(hedda.case.waiting).to_be_visible()
    hedda.case.make_code.click()

    phone.join_by_code(InvitationPage(hedda.page).code.inner_text())
    expect(phone.day.start).to_be_visible()
    InvitationPage(hedda.page).done.click()
    expect(hedda.case.received).to_be_visible()

    hedda.case.change_routine.click()
    hedda.push("Filing arm, steadier")
    expect(hedda.case.versions).to_have_count(2)
    expect(hedda.case.waiting).to_be_visible()

    phone.send()
    expect(phone.routine_title()).to_contain_text("Filing arm, steadier")
    hedda.page.reload()
    expect(hedda.case.received).to_be_visible()


def test_what_the_client_did_stands_on_the_desk(desk, practice, phone):
    client = practice.enrol(BELL_FOUNDER)
    phone.join_by_link(client.token)
    phone.do_session(worst=4)
    phone.sleep_until_morning()
    phone.report_morning(2)
    phone.send()

    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    row = hedda.case.days.filter(has_text="tender")
    expect(row).to_have_count(1)
    expect(row.locator(".rating")).to_have_text(["4", "2"])

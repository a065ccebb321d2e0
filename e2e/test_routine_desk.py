"""The routine desk: a changed weight is forecast and pushed, the phone says what changed, and the older version comes back."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage, RoutinePage, SignInPage
from e2e.screens import PhoneScreen
from tests.cast import BELL_FOUNDER, HEDDA

NOTE = "One weight less for now."
COUNT_CLICKS = (
    "window.addEventListener('click', () => sessionStorage.clicks = Number(sessionStorage.clicks ?? 0) + 1, true)"
)
MOST_CLICKS = 8


def test_a_changed_weight_is_forecast_and_pushed_and_the_older_version_comes_back(desk, joined, one_phone):
    joined(one_phone, BELL_FOUNDER)
    desk.add_init_script(COUNT_CLICKS)
    hedda = Desk.signed_in(desk)
    page, sheet = hedda.page, RoutinePage(hedda.page)
    page.evaluate("sessionStorage.clicks = 0")
    CaseloadPage(page).case(BELL_FOUNDER.name).click()
    hedda.case.change_routine.click()
    sheet.weights.click()
    sheet.weights.fill("1 lb; 2 lb")
    sheet.note.click()
    sheet.note.fill(NOTE)
    expect(sheet.push).to_be_visible()
    expect(sheet.forecast).to_contain_text("version 1, if nothing changes")
    sheet.settle()
    sheet.push.click()
    expect(hedda.case.waiting).to_be_visible()
    assert int(page.evaluate("sessionStorage.clicks")) <= MOST_CLICKS

    one_phone.send()
    expect(one_phone.day.note).to_contain_text(NOTE)
    expect(one_phone.day.note).to_contain_text("version 2")
    page.go_back()
    expect(page.get_by_text("Nothing differs from version 2")).to_be_visible()

    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.unfold("routine")
    page.get_by_role("link", name="Go back to version 1").click()
    expect(page.get_by_text("from 1 lb, 2 lb to 1 lb, 2 lb, 3 lb")).to_be_visible()
    sheet.settle()
    sheet.push.click()
    expect(hedda.case.versions).to_have_count(3)
    one_phone.send()
    PhoneScreen(one_phone.page).open()
    expect(PhoneScreen(one_phone.page).routine).to_contain_text("version 3")


@pytest.mark.long
def test_a_sign_in_that_ends_while_the_form_is_written_loses_nothing(desk, practice):
    practice.enrol(BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    page, sheet = hedda.page, RoutinePage(hedda.page)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.change_routine.click()
    desk.clear_cookies()
    sheet.note.fill(NOTE)
    expect(page.locator("[data-signed-out]")).to_be_visible()
    sheet.preview.click()
    door = SignInPage(page)
    door.email.fill(HEDDA.email)
    door.password.fill(HEDDA.password)
    door.enter.click()
    expect(page.get_by_text("Please send it once more")).to_be_visible()
    expect(sheet.note).to_have_value(NOTE)

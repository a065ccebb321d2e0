"""A movement of the practice's own: made at the desk, put into a routine, pushed; the phone plays and explains it with no network."""

from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import MovementPage, RoutinePage
from e2e.reading import MovementScreen
from e2e.screens import SessionScreen
from tests.cast import BELL_FOUNDER

NAME, HOW, START = "Palm up over a roll", "Lay the forearm on a rolled towel.", "Forearm on the roll."


def test_an_own_movement_is_made_pushed_and_played(desk, joined, one_phone, server):
    joined(one_phone, BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    page, sheet, routine = hedda.page, MovementPage(hedda.page), RoutinePage(hedda.page)
    page.goto("/practice/movements")
    sheet.make.click()
    sheet.like("Palm up").click()
    for field, text in ((sheet.name, NAME), (sheet.how, HOW), (sheet.start_cue, START), (sheet.degrees_up, "20")):
        field.fill(text)
    sheet.cautions_read.check()
    sheet.look.click()
    sheet.save.click()
    expect(page.get_by_role("heading", name=NAME, level=1)).to_be_visible()

    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.change_routine.click()
    routine.movements.click()
    routine.first_movement.select_option(label=f"{NAME} (own, like Palm up)")
    routine.settle()
    routine.look()
    routine.push.click()
    one_phone.send()
    server.kill()

    one_phone.day.drawings.first.tap()
    movement, session = MovementScreen(one_phone.page), SessionScreen(one_phone.page)
    expect(movement.title).to_have_text(NAME)
    expect(one_phone.page.locator("#page [data-how]")).to_have_text(HOW)
    expect(movement.leave_out.filter(has_text="while the hand tingles")).to_be_visible()
    movement.back.tap()
    one_phone.day.start.tap()
    session.main.tap()
    while (now := str(session.title.text_content())) != NAME:
        session.skip.tap()
        expect(session.title).not_to_have_text(now)
    expect(session.picture).to_be_visible()

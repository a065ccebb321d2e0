"""Letters: written without a network, sent, answered at the desk, read on the phone, and the reading seen at the desk."""

from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage
from e2e.letters import LettersScreen
from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER

ASKED = "Is the strap for the night too? 🙂"
ANSWERED = "By day only.\nTake it off to sleep."


def test_a_letter_is_written_offline_and_its_answer_stands_on_the_day_page_until_it_is_read(
    desk, server, practice, one_phone, joined
):
    client = joined(one_phone, BELL_FOUNDER)
    screen = LettersScreen(one_phone.page)
    server.kill()
    _write_without_a_network(one_phone, screen)
    server.start()
    one_phone.send()
    screen.way.tap()
    expect(screen.letters).to_contain_text("sent")
    expect(screen.take_back).to_have_count(0)
    hedda = Desk.signed_in(desk)
    _answer(hedda)

    one_phone.send()
    one_phone.open()
    expect(screen.answer).to_contain_text("By day only.")
    assert not faults(one_phone.page)
    screen.answer_read.tap()
    expect(screen.answer).to_be_hidden()
    screen.way.tap()
    expect(screen.letters.first).to_contain_text("read")
    expect(screen.letters.last).to_contain_text("Take it off to sleep.")
    one_phone.send()
    hedda.open_case(BELL_FOUNDER.name)
    expect(hedda.case.letters.last).to_contain_text("read by the client on")
    written = [event["body"]["text"] for event in practice.log(client.id) if event["kind"] == "letter_written"]
    assert written == [ASKED, ASKED]


def _write_without_a_network(one_phone, screen):
    """Write a letter, lose the page, press Send twice, take it back, and send it once more."""
    screen.way.tap()
    screen.send.tap()
    expect(screen.fault).to_contain_text("Nothing is written yet")
    expect(screen.field).to_be_focused()
    screen.field.fill(ASKED)
    one_phone.page.reload()
    expect(screen.field).to_have_value(ASKED)
    expect(screen.urgent).to_contain_text("Not for sharp pain")
    assert not faults(one_phone.page)
    screen.send.dblclick()
    expect(screen.letters).to_have_count(1)
    expect(screen.letters).to_contain_text("waits on this phone")
    screen.take_back.tap()
    expect(screen.field).to_have_value(ASKED)
    expect(screen.letters).to_have_count(0)
    screen.send.tap()
    expect(screen.field).to_have_value("")


def _answer(hedda):
    """Find the letter in the caseload and answer it on the case page."""
    expect(CaseloadPage(hedda.page).lines.first).to_contain_text("1 letter waits for you")
    hedda.open_case(BELL_FOUNDER.name)
    expect(hedda.case.letters).to_have_count(1)
    expect(hedda.case.letters).to_contain_text(ASKED)
    assert not faults(hedda.page)
    hedda.case.letter.fill(ANSWERED)
    hedda.case.send_letter.click()
    expect(hedda.case.letters.last).to_contain_text("not read by the client yet")

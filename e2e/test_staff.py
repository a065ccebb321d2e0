"""Two practitioners of one practice, who must not see each other's cases, until one hands a case over."""

from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage
from tests.cast import BELL_FOUNDER, HEDDA


def test_two_practitioners_see_their_own_cases_only_until_one_is_handed_over(browser, server, desk, practice):
    founder = practice.enrol(BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    hedda.page.goto("/practice/staff/add")
    hedda.page.get_by_label("Name", exact=True).fill("Signe Aldin")
    hedda.page.get_by_label("E-mail address").fill("signe@marrow.example")
    hedda.page.get_by_role("button", name="Add, and make the link").click()
    link = hedda.page.get_by_label("Link", exact=True).input_value()

    signe = browser.new_context(base_url=server.origin).new_page()
    signe.goto(link)
    for label in ("Your new password", "The same once more"):
        signe.get_by_label(label).fill("three herons over the weir")
    signe.get_by_role("button", name="Set the password").click()
    signe.get_by_role("button", name="I have written it down").click()
    expect(CaseloadPage(signe).title).to_be_visible()
    expect(signe.get_by_text(BELL_FOUNDER.name)).to_have_count(0)
    case = f"/practice/cases/{founder.public_id}"
    assert signe.goto(case).status == 404

    hedda.page.goto(f"{case}/hand-over")
    hedda.page.get_by_label("To whom").select_option(label="Signe Aldin")
    hedda.page.get_by_label("Why: the client reads it").fill("I am away until summer.")
    hedda.page.get_by_role("button", name="Hand over").click()
    expect(hedda.page.get_by_text(f"{BELL_FOUNDER.name} is handed over")).to_be_visible()
    assert hedda.page.goto(case).status == 404
    assert signe.goto(case).status == 200
    expect(signe.get_by_text(f"Handed to you by {HEDDA.name}")).to_be_visible()
    signe.context.close()

"""The desk with words twice as large on a narrow screen."""

import pytest

from e2e.desk import Desk
from e2e.sizes import larger_text
from e2e.test_groups import invited
from tests.cast import BELL_FOUNDER

WIDER = "document.documentElement.scrollWidth - innerWidth"
PAGES = ("", "staff", "staff/add", "staff/history", "groups", "groups/add", "records", "account", "account/password")


def _addresses(practice) -> list[str]:
    group, case = invited(practice).public_id, f"cases/{practice.enrol(BELL_FOUNDER).public_id}"
    more = (f"groups/{group}", f"groups/{group}/slip", case, f"{case}/routine", f"{case}/hand-over", f"{case}/way-back")
    return [f"/practice/{address}" for address in (*PAGES, *more)]


@pytest.mark.long
def test_with_words_twice_as_large_no_page_of_the_desk_is_wider_than_a_narrow_screen(desk, practice):
    page = Desk.signed_in(desk).page
    page.set_viewport_size({"width": 390, "height": 844})
    larger_text(page, 2)
    wider = {}
    for address in _addresses(practice):
        page.goto(address)
        for fold in page.locator("main details").all():
            fold.evaluate("each => { each.open = true; }")
        wider[address] = page.evaluate(WIDER)
    assert {address: by for address, by in wider.items() if by > 0} == {}

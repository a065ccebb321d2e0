"""A backup put back after the disk was lost: the phone waits for the practitioner's word, and then says everything again."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.phone import ALL_SENT
from e2e.screens import PhoneScreen
from tests.cast import BELL_FOUNDER
from webapp.cli import main
from webapp.records import acts

SERVED, LATER = 200, 503


def _is_answer_to_entries(answer):
    return answer.url.endswith("/api/sync") and bool(answer.request.post_data_json["events"])


@pytest.mark.long
def test_after_a_restore_a_confirmed_phone_says_everything_again_and_nothing_is_lost(
    desk, practice, one_phone, server, joined
):
    phone, environ = one_phone, {"HALFTURN_DB": str(server.db_path)}
    client = joined(phone, BELL_FOUNDER)
    assert main(["backup"], environ) == 0
    (copy,) = server.db_path.parent.glob("*.copy")
    phone.do_session(worst=2)
    expect(phone.page.get_by_text(ALL_SENT)).to_be_visible()
    sent = sorted(phone.log()["ids"])

    server.kill()
    server.db_path.unlink()
    acts.beside(server.db_path).unlink()
    for left in server.db_path.parent.glob(f"{server.db_path.name}-*"):
        left.unlink()
    assert main(["restore", str(copy)], environ) == 0
    server.start()
    screen = PhoneScreen(phone.page)
    screen.open()
    with phone.page.expect_response("**/api/sync") as answer:
        screen.send.tap()
    assert answer.value.status == LATER
    phone.page.goto("/app/en/#day")
    expect(phone.page.get_by_text("Ask your practitioner to confirm this phone")).to_be_visible()

    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.confirm.click()
    screen.open()
    # The first answer says that the server started anew; only the next request brings the entries again.
    with phone.page.expect_response(_is_answer_to_entries) as answer:
        screen.send.tap()
    assert answer.value.status == SERVED
    expect(screen.waiting).to_have_text(ALL_SENT)
    assert set(sent) <= {event["id"] for event in practice.log(client.id)}
    phone.page.goto("/app/en/#day")
    expect(phone.page.get_by_text("Ask your practitioner to confirm this phone")).to_have_count(0)

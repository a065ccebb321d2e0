"""A group: one link for many, and a newcomer who gets a dose without the practitioner's look."""

from datetime import UTC, datetime, timedelta

from playwright.sync_api import expect

from e2e.arriving import IntakeScreen, answer_questions
from e2e.desk import Desk
from e2e.desk_pages import GroupPage
from webapp.library.routine import starter
from webapp.records import groups
from webapp.records.database import open_records


def invited(practice) -> groups.GroupInvitation:
    """Invite a group for the outer elbow, as the desk does."""
    now = datetime.now(UTC)
    ends_at = now + timedelta(days=7)
    chosen = groups.NewGroup(practice.practitioner, "Tuesday", "en", starter("outer_elbow"), 30, ends_at, "word")
    db = open_records(practice.server.db_path)
    made = groups.make(db, chosen, "key", now)
    found = groups.find(db, practice.practitioner, made)
    db.conn.close()
    return found


def test_a_newcomer_by_the_groups_link_answers_the_questions_and_gets_a_dose_and_the_desk_notices(
    desk, one_phone, practice
):
    phone, group = one_phone, invited(practice)
    page = GroupPage(Desk.signed_in(desk).page)
    page.open(group.public_id)
    expect(page.count("joined")).to_have_text("0")
    phone.join_by_link(group.token)
    answer_questions(phone)
    expect(page.count("joined")).to_have_text("1", timeout=15_000)
    expect(page.look_again).to_be_visible()
    phone.day.arriving.locator("a[href='#intake']").tap()
    intake = IntakeScreen(phone.page)
    intake.page_of("where").wait_for()
    intake.choice("arm", "right").tap()
    intake.choice("place", "outer_elbow").tap()
    intake.on.tap()
    intake.choice("usual", "2").tap()
    intake.on.tap()
    intake.on.tap()
    intake.choice("weight", "0.5").tap()
    intake.on.tap()
    intake.field("mass_kg").fill("70")
    intake.field("height_cm").fill("175")
    intake.send.tap()
    expect(phone.day.start).to_be_visible()

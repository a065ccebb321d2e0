"""A group: one link for many, and a newcomer who gets a dose without the practitioner's look."""

from datetime import UTC, datetime, timedelta

from playwright.sync_api import expect

from e2e.arriving import IntakeScreen, answer_questions
from webapp.library.routine import starter
from webapp.records import groups
from webapp.records.database import open_records


def _link_of(practice) -> str:
    """Invite a group for the outer elbow, as the desk does, and return the token of its link."""
    now = datetime.now(UTC)
    ends_at = now + timedelta(days=7)
    chosen = groups.NewGroup(practice.practitioner, "Tuesday", "en", starter("outer_elbow"), 30, ends_at, "word")
    db = open_records(practice.server.db_path)
    made = groups.make(db, chosen, "key", now)
    found = groups.find(db, practice.practitioner, made)
    db.conn.close()
    return found.token


def test_a_newcomer_by_the_groups_link_answers_the_questions_and_gets_a_dose(one_phone, practice):
    phone = one_phone
    phone.join_by_link(_link_of(practice))
    answer_questions(phone)
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

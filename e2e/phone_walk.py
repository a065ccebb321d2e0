"""Goes through every screen of the phone, in the order in which a client meets them, and takes a picture of each."""

from e2e.arriving import arriving_screens
from e2e.camera import Camera
from e2e.letters import letter_screens
from e2e.phone import Phone
from e2e.reading import reading_screens
from e2e.screens import PhoneScreen, SessionScreen, SharpScreen
from e2e.settings import settings_screens

PAIN = {"left": 1}


def phone_screens(phone: Phone, token: str, camera: Camera) -> None:
    """Go through the phone's screens in the order in which a client meets them."""
    page = phone.page
    page.goto("/")
    camera.take(page, "phone-01-front")
    page.goto(f"/join#{token}")
    page.locator("[data-join]").wait_for()
    camera.take(page, "phone-02-invitation")
    phone.join_by_link(token)
    arriving_screens(phone, camera.take)
    camera.take(page, "phone-03-first-day")
    session = phone.open_session()
    camera.take(page, "phone-04-before-the-start", is_whole=False)
    session.ways.tap()
    camera.take(page, "phone-05-ways")
    _session_screens(phone, camera)
    _after_screens(phone, camera)
    page.goto(f"{phone.shell}#warnings")
    page.locator(".sign").first.wait_for()
    camera.take(page, "phone-20-warnings")
    PhoneScreen(page).open()
    PhoneScreen(page).send.wait_for()
    camera.take(page, "phone-21-this-phone")
    settings_screens(phone, camera)
    letter_screens(phone, camera)
    reading_screens(phone, camera)
    page.goto(f"{phone.shell}#home")
    camera.take(page, "phone-22-home-screen")
    page.goto(f"{phone.shell}#join")
    camera.take(page, "phone-23-link")


def _session_screens(phone: Phone, camera: Camera) -> None:
    page, session = phone.page, SessionScreen(phone.page)
    phone.begin_session()
    phone.play(8)
    camera.take(page, "phone-06-warm-up", is_whole=False)
    phone.skip_to("reps")
    phone.play(22)
    camera.take(page, "phone-07-set", is_whole=False)
    session.ease_off.tap()
    camera.take(page, "phone-08-ease", is_whole=False)
    session.easing("form").tap()
    session.main.tap()
    camera.take(page, "phone-09-paused", is_whole=False)
    session.main.tap()
    phone.skip_to("rest")
    phone.play(2)
    camera.take(page, "phone-10-rest", is_whole=False)
    phone.skip_to("hold")
    phone.play(9)
    camera.take(page, "phone-11-stretch", is_whole=False)
    session.stop.tap()
    camera.take(page, "phone-12-why", is_whole=False)
    session.why("time").tap()


def _after_screens(phone: Phone, camera: Camera) -> None:
    page, session = phone.page, SessionScreen(phone.page)
    page.locator(".after form").wait_for()
    camera.take(page, "phone-13-after")
    phone.rate(PAIN)
    phone.open()
    camera.take(page, "phone-14-done")
    phone.sleep_until_morning()
    camera.take(page, "phone-15-morning")
    phone.report_morning(PAIN)
    phone.open()
    camera.take(page, "phone-16-day")
    _between_sessions(phone, camera)
    phone.begin_session()
    phone.skip_to("reps")
    session.sharp.tap()
    SharpScreen(page).title.wait_for()
    camera.take(page, "phone-17-sharp")
    SharpScreen(page).leave.tap()
    phone.day.stop.wait_for()
    camera.take(page, "phone-18-stopped")


def _between_sessions(phone: Phone, camera: Camera) -> None:
    """Do a part of the day's first session, and look at the time until the second."""
    phone.begin_session()
    phone.skip_to("reps")
    phone.play(22)
    SessionScreen(phone.page).stop.tap()
    SessionScreen(phone.page).why("time").tap()
    phone.rate(PAIN)
    phone.day.early.wait_for()
    camera.take(phone.page, "phone-24-between-sessions")
    phone.day.early.tap()
    camera.take(phone.page, "phone-25-too-early")
    phone.page.goto(f"{phone.shell}#playing")
    phone.page.locator("form [data-ruler]").wait_for(state="attached")
    phone.page.locator("[name=begins]").fill("18:30")
    camera.take(phone.page, "phone-26-playing")
    phone.open()

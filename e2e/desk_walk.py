"""Goes through every page of the desk and takes a picture of each."""

from functools import cache

from playwright.sync_api import Page, expect

from e2e.camera import Camera
from e2e.desk_pages import InvitationPage, RoutinePage
from webapp.rulebook.book import gather, work_out
from webapp.rulebook.page import page_of

OF_THE_PRACTICE = (
    "staff",
    "staff/add",
    "staff/history",
    "groups",
    "groups/add",
    "movements",
    "movements/new",
    "records",
    "records/bring",
    "routines",
    "account",
    "account/password",
)


@cache
def _rule_book() -> str:
    """The rule book of these sources, the same for every walk of a process."""
    return page_of(gather(work_out(clients=10)))


def desk_screens(page: Page, camera: Camera) -> None:
    """Go through the desk's pages."""
    page.goto("/practice/")
    camera.take(page, "desk-01-sign-in")
    page.locator("main form button").first.click()
    camera.take(page, "desk-01-sign-in-faults")
    page.locator("[name=email]").fill("orla@venn.example")
    page.locator("[name=password]").fill("four slow bells")
    page.keyboard.press("Enter")
    expect(page.locator(".ledger").first).to_be_visible()
    camera.take(page, "desk-02-caseload")
    page.goto("/practice/?area=wrist&name=r")
    camera.take(page, "desk-03-caseload-searched")
    page.goto("/practice/cases/rosalie-hain/seen")
    camera.take(page, "desk-04-seen")
    for number, address in enumerate(OF_THE_PRACTICE, 5):
        page.goto(f"/practice/{address}")
        camera.take(page, f"desk-{number:02d}-{address.replace('/', '-')}")
    _group(page, camera)
    page.goto("/practice/")
    cases = [link.get_attribute("href") for link in page.locator(".case-line h3 a").all()]
    for number, case in enumerate(cases):
        page.goto(case)
        camera.take(page, f"desk-1{number}-case")
        for link in [
            each.get_attribute("href") for each in page.locator("main a[href*='/practice/']:not([download])").all()
        ]:
            if link and link.startswith(case) and "#" not in link and number in (0, len(cases) - 1):
                page.goto(link)
                camera.take(page, f"desk-2{number}-{link.rstrip('/').rsplit('/', 1)[-1]}")
    if page.locator("html").get_attribute("lang") == "en":
        _acts(page, camera, cases)
    page.goto("about:blank")
    page.set_content(_rule_book())
    camera.take(page, "desk-50-rule-book")


def _group(page: Page, camera: Camera) -> None:
    """The first group, its slip, and the page of a colleague."""
    page.goto("/practice/groups")
    group = f"{page.locator('.staff a').first.get_attribute('href')}"
    for name, address in (("group", group), ("slip", f"{group}/slip"), ("colleague", "/practice/staff/2")):
        page.goto(address)
        camera.take(page, f"desk-05-{name}")


def _acts(page: Page, camera: Camera, cases: list[str | None]) -> None:
    """What the desk answers to is pressed by its English words."""
    held, newcomer = f"{cases[0]}", "/practice/cases/isaura-linde"
    page.goto("/practice/add")
    camera.take(page, "desk-30-add")
    page.get_by_role("button", name="Add the client").click()
    camera.take(page, "desk-31-add-faults")
    page.goto(held)
    page.get_by_role("button", name="Release the hold").click()
    camera.take(page, "desk-32-release-faults")
    page.goto(newcomer)
    for number, kind in enumerate(("link", "short code"), 33):
        page.get_by_role("button", name=f"Make a {kind}").click()
        camera.take(page, f"desk-{number}-invitation")
        InvitationPage(page).done.click()
    page.goto("/practice/cases/runa-feld/intake")
    camera.take(page, "desk-37-intake-to-confirm")
    page.goto("/practice/cases/ansgar-tolle/routine")
    sheet = RoutinePage(page)
    sheet.note.fill("The work is fine. We go one step down this week.")
    sheet.most_reps.fill("twenty")
    sheet.look()
    expect(page.locator(".faults h2")).to_be_visible()
    camera.take(page, "desk-35-routine-faults")
    sheet.most_reps.fill("16")
    sheet.start_rung.fill("5")
    page.get_by_label("Weights at home").fill("1 kg; 3 kg; 4.5 kg")
    sheet.look()
    expect(page.locator("[data-live=weeks] svg:visible")).to_be_visible(timeout=15_000)
    camera.take(page, "desk-36-preview")

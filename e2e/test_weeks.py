"""The weeks so far: what is drawn and what its table says is what the log holds, however long the log is."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.past_pages import WeeksScreen
from e2e.test_accessible import faults, is_wider_than_the_screen
from e2e.test_timing import is_busy
from tests.builders import WHOLE
from tests.cast import BELL_FOUNDER, BOOKBINDER

PUT = """async (drafts) => {
  const { createClock, createStore } = halfturnModules;
  await createStore(createClock(), () => {}).addEvents(...drafts);
}"""
# Tasks that keep a frame waiting longer than this, while the page is opened and gone through.
WATCH = """() => { window.longTasks = [];
  new PerformanceObserver((list) => window.longTasks.push(...list.getEntries().map(({ duration }) => duration))).observe({ type: 'longtask' }); }"""
WHOLE_COURSE = """() => new Promise((done) => {
  const look = () => (document.querySelector('#page[data-weeks=whole]') ? done() : setTimeout(look, 200));
  look();
})"""
HEIGHTS = "all => all.map((one) => one.getBBox().height)"
UNIT, THIN = 0.62 * 15, 3
MORNINGS = [4, 4, 5, 3, 4, None, 4, 6, 3, 2, 0, 2, 2, 2, 3, 2, 2, 1, 2, 2]
SLOWED = 4
FRAME_MS = 50
SETTLED_MS = 1500


def dose(reps, load=0.0):
    names = ("palm_down", "palm_up", "thumb_up", "little_finger_up")
    return {"sessions": 1, "sets": [{"movement": name, "reps": reps, "load_kg": load, "range": 1} for name in names]}


def past_of(today, mornings, arms=("right",)):
    """The entries of days that end today, a session each and these mornings, the first day first."""
    first = today - timedelta(len(mornings) - 1)
    drafts = [{"kind": "routine_received", "on": first.isoformat(), "body": {"version": 1}}]
    for count, pain in enumerate(mornings):
        on = (first + timedelta(count)).isoformat()
        if pain is not None:
            drafts.append(
                {"kind": "morning_reported", "on": on, "body": {"arms": {arm: {"pain": pain} for arm in arms}}}
            )
        if count < len(mornings) - 1:
            day_dose = dose(8 + count % 3)
            own = {"worst": 1, "sets": [{**each, "share": WHOLE} for each in day_dose["sets"]], "dose": day_dose}
            body = {
                "routine": 1,
                "arms": dict.fromkeys(arms, own),
                "asked_steps": 9,
                "done_steps": 9,
                "active_seconds": 60,
            }
            drafts.append({"kind": "session_finished", "on": on, "body": {**body, "ended": "completed"}})
    return drafts


def go_to_the_weeks(phone):
    weeks = WeeksScreen(phone.page)
    phone.open()
    weeks.way.tap()
    return weeks


def test_the_plots_and_their_tables_are_what_the_log_holds(one_phone, joined):
    phone = one_phone
    joined(phone, BELL_FOUNDER)
    weeks = go_to_the_weeks(phone)
    expect(weeks.none).to_be_visible()
    phone.page.evaluate(PUT, past_of(phone.today, MORNINGS))
    go_to_the_weeks(phone)
    expect(weeks.whole).to_be_visible()
    expect(weeks.said).to_have_text(["Mornings in your right arm began near 4. This week they are near 2."])
    known = [pain for pain in MORNINGS if pain is not None]
    heights = weeks.columns("mornings", "right", "plot-pain", "plot-over").evaluate_all(HEIGHTS)
    assert heights == pytest.approx([max(pain * UNIT, THIN) for pain in known], abs=0.11)
    expect(weeks.columns("mornings", "right", "plot-missing")).to_have_count(1)
    weeks.tables.first.tap()
    expect(weeks.cells("mornings", "right", 1)).to_have_count(len(MORNINGS))
    shown_cells = weeks.cells("mornings", "right", 1).all_inner_texts()
    assert shown_cells[::-1] == ["not known" if pain is None else str(pain) for pain in MORNINGS]
    weeks.tables.last.tap()
    expect(weeks.cells("stair", "right", 1)).to_have_count(len(MORNINGS) - 1)
    reps = weeks.cells("stair", "right", 1).all_text_contents()
    assert reps[::-1] == [str(8 + count % 3) for count in range(len(MORNINGS) - 1)]
    expect(weeks.worth.first).to_contain_text("Day 8")
    expect(weeks.ahead.first).to_contain_text("settled day")
    assert faults(phone.page) == {}
    assert not is_wider_than_the_screen(phone.page)


@pytest.mark.long
def test_of_two_arms_each_has_its_own_plots(one_phone, joined):
    joined(one_phone, BOOKBINDER)
    one_phone.page.evaluate(PUT, past_of(one_phone.today, MORNINGS, ("right", "left")))
    weeks = go_to_the_weeks(one_phone)
    expect(weeks.said).to_have_count(2)
    for arm in ("right", "left"):
        expect(weeks.columns("mornings", arm, "plot-pain", "plot-over")).to_have_count(len(MORNINGS) - 1)
    assert faults(one_phone.page) == {}


@pytest.mark.alone
def test_400_days_stay_smooth_on_a_slow_phone_and_the_first_can_be_reached(one_phone, joined):
    phone = one_phone
    joined(phone, BELL_FOUNDER)
    phone.page.evaluate(PUT, past_of(phone.today, MORNINGS * 20))
    phone.open()
    phone.context.new_cdp_session(phone.page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    phone.page.evaluate(WATCH)
    # What looks at the page from outside takes the page's time too: it looks when all is drawn.
    phone.page.evaluate("location.hash = '#weeks'")
    phone.page.evaluate(WHOLE_COURSE)
    for act in ("earlier", "first"):
        phone.page.evaluate(f"document.querySelector('[data-act={act}]').click()")
        phone.page.wait_for_timeout(SETTLED_MS)
    long_tasks = phone.page.evaluate("window.longTasks")
    weeks = WeeksScreen(phone.page)
    expect(weeks.whole).to_be_visible()
    expect(weeks.earlier).to_be_disabled()
    expect(weeks.columns("mornings", "right", "plot-pain", "plot-over").first).to_be_visible()
    assert is_busy() or [task for task in long_tasks if task > FRAME_MS] == []

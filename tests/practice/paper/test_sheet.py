"""The printed sheet at the desk: what it says, and for whom it has no row to train."""

from tests.builders import days_of
from tests.cast import FIRST_DAY, HEDDA
from tests.practice.paper.typed import week


def test_the_sheet_says_what_to_do_how_often_with_which_weight_and_when_to_stop(hedda, path):
    hedda.open(f"{path}/sheet")
    for said in ("Palm down", "no weight", "seconds up", "The morning decides", "8 and up", "Ansgar Tolle"):
        assert said in hedda.text
    assert hedda.page.text.count('class="sheet-page"') == 2
    assert hedda.page.text.count('data-movement="') == 6


def test_the_sheet_names_every_rule_of_the_core_with_its_figures(hedda, path):
    hedda.open(f"{path}/sheet")
    rules = hedda.text.partition("The morning decides")[2].partition("Each morning")[0]
    for said in (
        "0–2 Do the session",
        "3–4 Do the same again, no more. Is it 2 more than the lowest of the three mornings before?",
        "After more than 3 such mornings in a row, move through three quarters of the range only.",
        "5–7 Rest until a morning of 3 or less. Then move through three quarters of the range only.",
        "On day 3 of the rest, let the arm be seen.",
        "8 and up Stop",
        "at 4–5 do the same again, no more; at 6–7 rest the next day, as above; at 8 and up stop.",
        "After 7 days without a session, ask for a new sheet first.",
    ):
        assert said in rules


def test_a_held_arm_s_sheet_says_so_and_has_no_row_to_train(site, hedda, path, out):
    site.receive(site.founder, days_of(FIRST_DAY, [(9, 1)]))
    hedda.open(f"{path}/sheet")
    assert "Stopped: no exercises with this arm." in hedda.text
    assert "A doctor or physiotherapist can look at the arm. You need not wait." in hedda.text
    assert "session done" not in hedda.text
    assert 'data-movement="' not in hedda.page.text
    assert "sharp pain" in hedda.text


def test_a_sheet_begins_on_the_day_and_is_as_long_as_asked(site, hedda, path, out):
    hedda.open(f"{path}/sheet?sheet_first=2026-03-12&sheet_weeks=2&paper=letter")
    assert "Thu 12 Mar 2026 – Wed 25 Mar 2026" in hedda.text
    assert hedda.page.text.count("sheet-column") == 14 + 1
    assert 'data-paper="letter"' in hedda.page.text
    hedda.open(f"{path}/sheet?sheet_first=2027-03-12&sheet_weeks=9&paper=a9")
    assert "Mon 9 Mar 2026 – Sun 15 Mar 2026" in hedda.text
    assert "2027-03-12" in hedda.text


def test_in_the_first_week_the_sheet_is_for_oneweek(hedda, path):
    hedda.open(f"{path}/sheet?sheet_weeks=2")
    assert hedda.page.text.count("sheet-column") == 7 + 1
    assert "the short sessions end with it" in hedda.text


def test_a_second_week_asks_which_sheet_it_was_written_on(site, hedda, path, out):
    site.clock.pass_by(days=7)
    hedda.sign_in(HEDDA.email, HEDDA.password)
    week(hedda, path, morning_right_0="1", worst_right_0="1")
    address = f"{path}/diary?from=2026-03-09"
    hedda.open(address)
    typed = hedda.form().to_dict() | {"morning_right_0": "1", "worst_right_0": "1"}
    assert hedda.send(address, typed).status_code == 400
    assert "What the client had: this is needed" in hedda.text
    assert hedda.form()["worst_right_0"] == "1"
    assert hedda.send(address, {**typed, "sheet_began": "before"}, follow=True).status_code == 200
    assert hedda.send(address, {**typed, "sheet_began": "long ago"}).status_code == 400


def test_the_sheet_is_in_the_client_s_language(site, hedda, path):
    with site.db.conn:
        site.db.execute("UPDATE clients SET locale = 'es' WHERE id = ?", (site.founder.id,))
    hedda.open(f"{path}/sheet?paper=letter")
    assert 'data-paper="letter" lang="es" ' in hedda.page.text
    assert "The routine on paper" in hedda.text

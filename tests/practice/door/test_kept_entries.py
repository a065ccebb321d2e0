"""A sign-in that ends while a form is being written: what was typed comes back after signing in, and nothing is done by itself."""

from tests.cast import HEDDA
from webapp.records import cases, routines

DESK = "/practice/cases/ansgar0001/routine"


def _sign_out(site):
    site.db.execute("DELETE FROM practitioner_sessions")


def _typed(site, hedda, step="push"):
    hedda.open(DESK)
    form = hedda.form("/routine")
    form["note"], form["goal_reps"] = "Slowly down.", "15"
    _sign_out(site)
    return hedda.send(DESK, [*form.items(multi=True), ("step", step)])


def _sign_in(hedda, password=HEDDA.password):
    form = hedda.form("/practice/sign-in")
    form["email"], form["password"] = HEDDA.email, password
    answer = hedda.send("/practice/sign-in", form)
    # As a browser does with 307: the same entries again, to the address that is named.
    return hedda.send(answer.location, form) if answer.status_code == 307 else answer


def test_what_was_typed_stands_in_the_form_again_after_signing_in(site, hedda):
    assert _typed(site, hedda).status_code == 403
    assert "What you typed is kept" in hedda.text
    _sign_in(hedda)
    assert "Please send it once more" in hedda.text
    entries = hedda.form("/routine")
    assert (entries["note"], entries["goal_reps"]) == ("Slowly down.", "15")
    assert len(routines.of_client(site.db, site.founder.id)) == 1, "nothing is pushed by signing in"
    hedda.fill("/routine", {"step": "preview"}, post_to=DESK)
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert routines.latest(site.db, site.founder.id).note == "Slowly down."


def test_a_colleagues_address_is_not_taken_for_ones_own(site, hedda):
    hedda.open("/practice/staff/add")
    form = hedda.form()
    form["colleague-email"] = "signe@marrow.example"
    _sign_out(site)
    hedda.send("/practice/staff/add", form)
    _sign_in(hedda)
    assert hedda.form()["colleague-email"] == "signe@marrow.example"


def test_a_wrong_password_on_the_way_loses_nothing(site, hedda):
    _typed(site, hedda)
    assert _sign_in(hedda, "not her password at all").status_code == 403
    _sign_in(hedda)
    assert hedda.form("/routine")["note"] == "Slowly down."


def test_no_password_and_no_button_is_kept(site, hedda):
    _typed(site, hedda)
    kept = hedda.form("/practice/sign-in")
    assert "step" not in kept
    assert kept["password"] == ""


def test_a_button_of_its_own_leads_to_the_door_as_before(site, hedda):
    hedda.open(DESK)
    _sign_out(site)
    answer = hedda.send("/practice/sign-out", {"csrf_token": "x"})
    assert answer.status_code == 303
    assert answer.location.endswith("/practice/sign-in")


def test_nobody_is_led_out_of_the_site(visitor):
    visitor.send("/practice/cases/ansgar0001/routine?start=version-1", {"note": "x"})
    assert visitor.form("/practice/sign-in")["onward"].startswith("/practice/")


def test_a_correction_of_the_intake_comes_back_with_its_reason_and_is_saved_on_the_next_press(site, hedda):
    page = "/practice/cases/ansgar0001/intake/correct"
    hedda.open(page)
    form = hedda.form()
    form["mass_kg"], form["correction_reason"] = "80", "Weighed today."
    _sign_out(site)
    hedda.send(page, form)
    _sign_in(hedda)
    entries = hedda.form()
    assert (entries["mass_kg"], entries["correction_reason"]) == ("80", "Weighed today.")
    assert cases.find(site.db, site.hedda.id, "ansgar0001").intake["mass_kg"] == 82
    assert hedda.fill("", {}, post_to=page, follow=False).status_code == 303
    assert cases.find(site.db, site.hedda.id, "ansgar0001").intake["mass_kg"] == 80

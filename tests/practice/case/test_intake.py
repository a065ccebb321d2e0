"""Adding a client: the fields the core needs, each fault named with value, rule, range and unit."""

import pytest

from webapp.records import cases

GOOD = {
    "name": "Ida Brook",
    "area": "outer_elbow",
    "arms": ["right", "left"],
    "mass_kg": "61,5",
    "height_m": "168",
    "sex": "female",
    "weights": "½ kg; 1 kg; 2 lb",
    "weights_unit": "kg",
    "usual": "2",
    "start_rung_right": "",
    "start_rung_left": "",
    "note": "",
    "screened": "yes",
}


def _add(hedda, **changes):
    hedda.open("/practice/add")
    return hedda.fill("", {**GOOD, **changes}, post_to="/practice/add", follow=False)


def _added(site):
    return next((case for case in cases.of_practitioner(site.db, site.hedda.id) if case.name == "Ida Brook"), None)


def test_a_client_is_added_as_entered_and_the_routine_comes_next(site, hedda):
    answer = _add(hedda)
    made = _added(site)
    assert answer.status_code == 303
    assert answer.headers["Location"].endswith(f"/practice/cases/{made.public_id}/routine")
    intake = made.intake
    assert (intake["mass_kg"], intake["height_m"], intake["sex"]) == (61.5, 1.68, "female")
    assert intake["arms"] == ["right", "left"]
    assert intake["weights"] == [
        {"value": 0, "unit": "kg"}, {"value": 0.5, "unit": "kg"}, {"value": 2, "unit": "lb"}, {"value": 1, "unit": "kg"},
    ]  # fmt: skip
    assert (intake["usual"], intake["start_rungs"]) == (2, {})


def test_each_arm_may_be_given_a_rung_of_its_own(site, hedda):
    _add(hedda, start_rung_right="1", start_rung_left="5")
    assert _added(site).intake["start_rungs"] == {"right": 1, "left": 5}


def test_a_form_that_is_sent_twice_adds_one_client_and_other_entries_from_the_same_page_another(site, hedda):
    hedda.open("/practice/add")
    entries = hedda.form("").to_dict(flat=False) | GOOD
    first, second = (hedda.send("/practice/add", entries, follow=False) for _ in range(2))
    assert first.location == second.location
    own = [case.name for case in cases.of_practitioner(site.db, site.hedda.id)]
    assert own.count("Ida Brook") == 1
    hedda.send("/practice/add", entries | {"name": "Bo Brook"})
    hedda.send("/practice/add", {name: entry for name, entry in entries.items() if name != "key"})
    assert len(cases.of_practitioner(site.db, site.hedda.id)) == len(own) + 2


def test_a_name_that_is_sent_twice_adds_one_client(site, hedda):
    hedda.open("/practice/add")
    entries = hedda.form("/add/name").to_dict() | {"short-name": "Runa Feld"}
    for _ in range(2):
        hedda.send("/practice/add/name", entries)
    assert [case.name for case in cases.of_practitioner(site.db, site.hedda.id)].count("Runa Feld") == 1


def test_a_rung_for_an_arm_that_is_not_ticked_is_named_and_nothing_is_added(site, hedda):
    assert _add(hedda, arms=["right"], start_rung_left="5").status_code == 400
    assert "Rung, left arm: this arm is not among the arms ticked." in hedda.text
    assert _added(site) is None


@pytest.mark.parametrize(
    ("area", "order"),
    [
        ("outer_elbow", ["palm_up", "palm_down", "little_finger_up", "thumb_up"]),
        ("inner_elbow", ["palm_down", "palm_up", "thumb_up", "little_finger_up"]),
        ("wrist", ["palm_down", "palm_up", "thumb_up", "little_finger_up"]),
    ],
)
def test_the_first_routine_has_the_order_of_the_area_that_was_entered(site, hedda, area, order):
    _add(hedda, area=area)
    hedda.open(f"/practice/cases/{_added(site).public_id}/routine")
    entries = hedda.form("/routine")
    assert [entries[f"direction_{number}"] for number in range(1, 5)] == order


@pytest.mark.parametrize(
    ("entered", "kilograms", "metres"),
    [(("150 lb", "168 cm"), 68.038856, 1.68), (("70 kg", "1.68 m"), 70, 1.68), (("70", "168,5"), 70, 1.685)],
)
def test_mass_and_height_may_carry_their_unit(site, hedda, entered, kilograms, metres):
    _add(hedda, mass_kg=entered[0], height_m=entered[1])
    assert _added(site).intake["mass_kg"] == pytest.approx(kilograms)
    assert _added(site).intake["height_m"] == pytest.approx(metres)


def test_sex_may_stay_unsaid(site, hedda):
    _add(hedda, sex="unsaid")
    assert _added(site).intake["sex"] is None


@pytest.mark.parametrize(
    ("field", "entered", "sentence"),
    [
        ("name", "", "Name: this is needed"),
        ("name", "x" * 81, "Name: 81 characters are too many; there may be at most 80"),
        ("area", "knee", 'Sore area: "knee" is not among the choices'),
        ("arms", [], "Arms: this is needed"),
        ("mass_kg", "12", 'Body mass: "12" is out of range; it must be from 30 to 250 kg'),
        ("mass_kg", "heavy", 'Body mass: "heavy" is not a number. Give a number from 30 to 250 kg'),
        ("height_m", "1.9 km", "Height: "),
        ("height_m", "300", 'Height: "300" is out of range; it must be from 120 to 230 cm'),
        ("weights", "1 kg; a brick; 9 kg", '"a brick" is not a weight'),
        ("weights", "1 kg; a brick; 9 kg", 'Weights at home: "9 kg" is out of range; it must be from 0 to 5 kg'),
        ("weights", "; ".join(str(n / 10) for n in range(1, 22)), "There are 22 weights; give from 1 to 20"),
        ("usual", "2.5", 'Usual morning pain: "2.5" must be a whole number from 0 to 10 of 10'),
        ("usual", "11", 'Usual morning pain: "11" is out of range'),
        ("start_rung_left", "0", 'Rung, left arm: "0" is out of range; it must be from 1 to 200'),
        ("screened", [], "Warning signs: this is needed"),
    ],
)
def test_a_fault_is_named_and_nothing_else_that_was_typed_is_lost(site, hedda, field, entered, sentence):
    assert _add(hedda, **{field: entered}).status_code == 400
    assert sentence in hedda.text
    kept = hedda.form("")
    for name in ("name", "mass_kg", "height_m", "weights", "usual"):
        assert kept[name] == (GOOD | {field: entered})[name]
    assert _added(site) is None


def test_all_faults_are_told_together(hedda):
    _add(hedda, name="", mass_kg="5", usual="")
    for text in ("Name: ", "Body mass: ", "Usual morning pain: "):
        assert text in hedda.text


@pytest.mark.parametrize("usual", ["6", "10"])
def test_a_usual_pain_of_six_and_over_is_sent_to_a_clinician_first(site, hedda, usual):
    assert _add(hedda, usual=usual).status_code == 400
    assert "should see a clinician first" in hedda.text
    assert _added(site) is None


@pytest.mark.parametrize("usual", ["4", "5"])
def test_a_usual_pain_of_four_or_five_needs_the_tick_that_a_clinician_has_seen_the_arm(site, hedda, usual):
    assert _add(hedda, usual=usual).status_code == 400
    assert "this is allowed only once a clinician has seen the arm" in hedda.text
    assert _added(site) is None
    assert _add(hedda, usual=usual, clinician_seen="yes").status_code == 303
    assert (_added(site).intake["usual"], _added(site).intake["clinician_seen"]) == (int(usual), True)


def test_the_warning_signs_are_asked_with_their_levels(hedda):
    hedda.open("/practice/add")
    for text in (
        "Emergency",
        "Same day",
        "Before any exercise",
        "a tight chest",
        "speech is slurred",
        "Ring your local emergency number now.",
        "Ask a clinician first",
    ):
        assert text in hedda.text


def test_a_name_with_marks_of_a_page_in_it_is_only_text(hedda):
    _add(hedda, name="<b>Ida</b> & <script>")
    hedda.open("/practice")
    assert "<b>Ida</b>" not in hedda.page.text
    assert "&lt;b&gt;Ida&lt;/b&gt; &amp; &lt;script&gt;" in hedda.page.text

"""How clients reach the practitioner: entered on the account page, told to each phone."""

import pytest

from webapp.records import practitioners
from webapp.records.practitioners import Reach
from webapp.sync.phone.practitioner import practitioner_shown
from webapp.wire.sync import PractitionerShown

ACCOUNT = "/practice/account"
REACH = {
    "name": "Hedda Marrow",
    "telephone": "+47 22 55 01 02",
    "hours": "weekdays 9 to 17",
    "contact_email": "desk@marrow.example",
    "letters_read": "within two working days",
}


def _fill(visitor, **changes):
    visitor.open(ACCOUNT)
    return visitor.fill("", {**REACH, **changes}, post_to=ACCOUNT)


def test_what_is_entered_stands_on_the_page_again_and_is_told_to_the_phones(site, hedda):
    _fill(hedda, name=" Hedda Marrow-Lind ")
    assert "Your clients’ phones show it" in hedda.text
    assert {name: hedda.form()[name] for name in REACH} == {**REACH, "name": "Hedda Marrow-Lind"}
    assert practitioner_shown(site.db, site.founder.id) == PractitionerShown(
        name="Hedda Marrow-Lind",
        telephone="+47 22 55 01 02",
        hours="weekdays 9 to 17",
        email="desk@marrow.example",
        letters_read="within two working days",
    )


def test_each_practitioner_has_a_reach_of_their_own(site, hedda):
    _fill(hedda)
    assert practitioners.reach_for(site.db, site.organ_builder.id) == ("Jonas Reck", Reach())


# ITU-T E.164 has at most 15 digits; a few more leave room for what is dialled before them.
@pytest.mark.parametrize("number", ["112", "020 7946 0102", "+44-20-7946-0102", "0102.55"])
def test_a_number_that_can_be_dialled_is_taken(hedda, number):
    assert _fill(hedda, telephone=number).status_code == 200
    assert hedda.form()["telephone"] == number


@pytest.mark.parametrize(
    "number", ["+44 (0)20 7946 0102", "call me", "12", "1" * 21, "55--01", "javascript:1", "٠١٢٣٤٥", "555;ext=2"]
)
def test_a_number_that_cannot_be_dialled_is_refused_beside_the_field_and_nothing_is_lost(site, hedda, number):
    assert _fill(hedda, telephone=number, hours="after lunch").status_code == 400
    assert 'id="telephone-fault"' in hedda.page.text
    assert "cannot be dialled" in hedda.text
    assert (hedda.form()["telephone"], hedda.form()["hours"]) == (number, "after lunch")
    assert practitioners.reach_of(site.db, site.hedda.id) == Reach()


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("name", "  ", "still empty"),
        ("name", "x" * 81, "at most 80"),
        ("hours", "x" * 81, "at most 80"),
        ("letters_read", "x" * 81, "at most 80"),
        ("contact_email", "desk at marrow", "no e-mail address"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(hedda, field, value, said):
    assert _fill(hedda, **{field: value}).status_code == 400
    assert f'id="{field}-fault"' in hedda.page.text
    assert said in hedda.text


def test_everything_but_the_name_may_be_left_out(site, hedda):
    _fill(hedda)
    _fill(hedda, telephone="", hours="", contact_email="", letters_read="")
    assert practitioners.reach_for(site.db, site.founder.id) == ("Hedda Marrow", Reach())

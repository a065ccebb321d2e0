"""Numbers and weights as people type them."""

import pytest

from webapp.practice.forms.quantities import Quantity, read_number, read_quantity, read_weights, write_weights


@pytest.mark.parametrize(
    ("typed", "number"),
    [("2", 2), ("1.5", 1.5), ("1,5", 1.5), (" 3 ", 3), ("½", 0.5), ("1½", 1.5), ("1 ¼", 1.25), (".5", 0.5), ("2.", 2)],
)
def test_a_number_is_read_in_either_notation(typed, number):
    assert read_number(typed) == number


@pytest.mark.parametrize("typed", ["", "x", "1,2,3", "1.2.3", "-1", "1e3", "½½", "nan", "inf", "١٢x"])
def test_what_is_no_number_is_none(typed):
    assert read_number(typed) is None


@pytest.mark.parametrize(
    ("typed", "value", "unit"),
    [("1 lb", 1, "lb"), ("1lbs", 1, "lb"), ("½ KG", 0.5, "kg"), ("0,5 kilo", 0.5, "kg"), ("2", 2, "kg")],
)
def test_a_quantity_carries_its_unit_or_takes_the_first(typed, value, unit):
    assert read_quantity(typed, ("kg", "lb")) == Quantity(value, unit)


@pytest.mark.parametrize("typed", ["1 stone", "kg", "1 kg 2", "a kg"])
def test_a_quantity_in_another_unit_is_not_guessed(typed):
    assert read_quantity(typed, ("kg", "lb")) is None


@pytest.mark.parametrize(
    ("typed", "unit", "kilograms"),
    [
        ("1; 2; 3", "lb", [0, 0.4536, 0.9072, 1.3608]),
        ("1, 2, 3", "lb", [0, 0.4536, 0.9072, 1.3608]),
        ("0,5; 1", "kg", [0, 0.5, 1]),
        ("0.5 kg\n1 lb", "kg", [0, 0.4536, 0.5]),
        ("", "kg", [0]),
        ("0; 1; 1; 1.0 kg", "kg", [0, 1]),
    ],
)
def test_a_list_of_weights_is_sorted_each_once_and_the_bare_hand_is_in_it(typed, unit, kilograms):
    weights, faults = read_weights(typed, unit)
    assert [each.kilograms for each in weights] == kilograms
    assert not faults


def test_every_faulty_weight_is_named_as_it_was_typed():
    _, faults = read_weights("1 kg; six; 12 lb; 5,5 kg", "kg")
    assert [(fault.code, fault.value) for fault in faults] == [
        ("not_a_weight", "six"), ("out_of_range", "12 lb"), ("out_of_range", "5,5 kg"),
    ]  # fmt: skip


def test_what_is_written_is_read_back_the_same():
    weights, _ = read_weights("½ kg; 1 lb; 3", "kg")
    assert read_weights(write_weights(weights), "kg")[0] == weights

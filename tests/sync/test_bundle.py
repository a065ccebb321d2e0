"""The bundle of a phone: complete, the same each time, small, and with all words in one language."""

import gzip
from itertools import accumulate

import pytest

from tests.cast import BELL_FOUNDER, BOOKBINDER, POUND_KG
from webapp.dosing import figures
from webapp.dosing.almanac import build
from webapp.dosing.closing import Closing, close_but_for_gap, close_gap, without_gap
from webapp.dosing.findings.numbers import FEWEST_MORNINGS
from webapp.dosing.gap_table import GAP_COLUMNS
from webapp.dosing.release import released, returns
from webapp.dosing.responses import RESPONSES
from webapp.dosing.rules import TENDER
from webapp.events.kinds import LEVELS
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import bundle_bytes, hash_of, make_bundle, make_stored_bundle, prescribed
from webapp.words import pseudo_words, words_for

SIX_WEIGHTS = {
    **BELL_FOUNDER.settings,
    "weights": [{"value": pounds, "unit": "lb"} for pounds in range(6)],
    "weights_kg": [round(pounds * POUND_KG, 4) for pounds in range(6)],
}
WORDED = ("caution", "why", "movements", "responses", "to_do", "to_know")


@pytest.fixture(scope="module")
def prescription():
    return prescribed(starter(BOOKBINDER.area), BOOKBINDER.settings, 3, "Mind the left one.")


@pytest.fixture(scope="module")
def bundle(prescription):
    return make_bundle(prescription, words_for("en"), the_shelf())


def test_a_bundle_says_whose_and_what_it_is(bundle):
    assert (bundle["format"], bundle["locale"], bundle["arms"], bundle["usual"]) == (1, "en", ["right", "left"], 3)
    assert bundle["routine"] == {"version": 3, "title": "Outer elbow: daily wrist work", "note": "Mind the left one."}


def test_the_hash_is_that_of_the_content_and_the_same_each_time(prescription, bundle):
    again = make_bundle(prescription, words_for("en"), the_shelf())
    assert bundle_bytes(again) == bundle_bytes(bundle)
    assert bundle["hash"] == hash_of(bundle)
    assert hash_of({**bundle, "usual": 4}) != bundle["hash"]


def test_looking_up_a_day_is_closing_it_but_for_its_gap(prescription, bundle):
    almanac, table = build(prescription.plan), bundle["almanac"]
    columns = [list(accumulate(steps)) for steps in table["next"]]
    for row, state in enumerate(almanac.states):
        whys = table["whys"][table["why"][row]]
        for column, response in enumerate(RESPONSES):
            closing = close_but_for_gap(prescription.plan, state, response)
            assert columns[column][row] == almanac.rows[closing.state]
            assert tuple(whys[column]) == closing.reasons


@pytest.mark.parametrize("name", GAP_COLUMNS)
def test_looking_up_what_days_without_a_session_do_is_working_it_out(prescription, bundle, name):
    almanac, days = build(prescription.plan), GAP_COLUMNS[name]
    column = list(accumulate(bundle["almanac"]["gap"]["columns"][name]))
    for row, state in enumerate(almanac.states):
        after = close_gap(prescription.plan, Closing(state, ()), days, state.rung).state
        assert column[row] == almanac.rows[without_gap(after)]


def test_a_phone_can_look_up_every_return_that_a_hold_allows_and_no_other(prescription, bundle):
    almanac, release = build(prescription.plan), bundle["almanac"]["release"]
    held = {row: state for row, state in enumerate(almanac.states) if state.mode == "held"}
    assert set(release["of"]) == {str(row) for row in held}
    for row, state in held.items():
        offered = release["offers"][release["of"][str(row)]]
        assert [tuple(each[:2]) for each in offered] == returns(prescription.plan, state)
        after = [
            almanac.rows[released(prescription.plan, state, chosen)] for chosen in returns(prescription.plan, state)
        ]
        assert [each[2] for each in offered] == after


def test_every_training_dose_has_a_sheet_that_ends(bundle):
    for dose in bundle["doses"]:
        if dose["mode"] == "training":
            steps = [bundle["steps"][index] for index in bundle["sheets"][dose["sheet"]]]
            assert steps[-1]["kind"] == "done"
            assert abs(sum(step["seconds"] for step in steps) / 60 - dose["minutes"]) <= 0.5
        else:
            assert (dose["sheet"], dose["sessions"], dose["sets"]) == (None, 0, [])


def test_every_reason_and_movement_that_is_named_has_words(bundle):
    reasons = {rule for row in bundle["almanac"]["whys"] for cell in row for rule in cell}
    named = {step["movement"] for step in bundle["steps"]} - {None}
    assert reasons <= set(bundle["why"])
    assert named == set(bundle["movements"])


def test_every_warning_sign_is_on_the_phone_the_most_urgent_first_and_each_level_says_what_to_do(bundle):
    levels = [sign["level"] for sign in bundle["warnings"]]
    assert list(dict.fromkeys(levels)) == list(LEVELS)
    assert set(bundle["to_do"]) == set(LEVELS)
    assert {sign["id"] for sign in bundle["warnings"]} == {sign.id for sign in the_shelf().warnings}


def test_of_the_warning_signs_only_those_to_ask_about_first_hold_nothing(bundle):
    assert {sign["level"] for sign in bundle["warnings"] if not sign["holds"]} == {"ask_first"}
    assert all(sign["is_whole"] for sign in bundle["warnings"] if sign["level"] == "emergency")


def test_a_load_is_told_in_the_unit_it_was_entered_in():
    made = make_stored_bundle(starter("outer_elbow"), BELL_FOUNDER.settings, 1, "", "en")
    assert {dose_set["load"] for dose in made["doses"] for dose_set in dose["sets"]} == {
        "no weight",
        "1 lb",
        "2 lb",
        "3 lb",
    }


def texts_of(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from texts_of(each)
    elif isinstance(value, list):
        for each in value:
            yield from texts_of(each)


def test_no_sentence_is_outside_the_catalogue(prescription):
    bundle = make_bundle(prescription, pseudo_words(), the_shelf())
    sentences = [text for part in WORDED for text in texts_of(bundle[part])]
    sentences += [line for dose in bundle["doses"] for line in dose["summary"]]
    steps = [*bundle["steps"], *bundle["change_arm"].values()]
    sentences += [step[key] for step in steps for key in ("name", "cue", "hint")] + [
        step["load"] for step in steps if step["load"]
    ]
    sentences += [sign["text"] for sign in bundle["warnings"]] + [bundle["routine"]["title"]]
    assert [text for text in sentences if not (text.startswith("[") and text.endswith("]"))] == []


def test_six_weights_make_a_bundle_that_a_slow_line_carries_in_a_moment():
    bundle = make_stored_bundle(starter("outer_elbow"), SIX_WEIGHTS, 1, "", "en")
    packed = {part: len(gzip.compress(bundle_bytes({part: value}), mtime=0)) for part, value in bundle.items()}
    assert packed["almanac"] <= 9_000
    assert (
        len(gzip.compress(bundle_bytes(bundle), mtime=0)) <= 30_000
    )  # 4 kB of it are the way back: its table and three ladders in words


def test_the_hours_between_two_sessions_of_a_day_are_those_of_the_core(bundle):
    assert bundle["apart"] == {"hours": figures.SESSIONS_APART.value, "latest": figures.LATEST_START.value}
    # The rule of the first week: short sessions, four hours apart.
    assert bundle["apart"]["hours"] == 4


def test_when_the_phone_asks_for_more_is_the_core_s_own_matter(bundle):
    # Reports up to three days late; after seven days and more injury, injection, operation, new medicine, fever; past the third sore day.
    assert bundle["asks"] == {
        "late": 3, "away": 3, "long_away": 7, "sore_days": 3, "sore": list(TENDER),
        "activity_weeks": [0, 2, 4, 8, 12], "week_reports": FEWEST_MORNINGS.value,
    }  # fmt: skip
    assert {"tender", "tender_over", "sore"} == set(TENDER)

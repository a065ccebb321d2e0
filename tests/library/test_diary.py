"""A diary from paper: what is read, and what is refused."""

from datetime import date

import pytest

from webapp.dosing.course import DayFacts
from webapp.dosing.release import Return
from webapp.dosing.responses import ENOUGH, NONE, PART
from webapp.library.diary import PaperDiary, load_diary, read_diary
from webapp.library.faults import NotAcceptedError

HEADER = "on,arm,sessions,during,morning,sharp\n"
MONDAY, TUESDAY = date(2026, 3, 2), date(2026, 3, 3)
COLUMNS = HEADER.strip()
WITH_BOTH = f"{COLUMNS},done,release\n"
WITH_DONE = f"{COLUMNS},done\n"


def faults_of(text, **more):
    with pytest.raises(NotAcceptedError) as caught:
        read_diary(text, "diary.csv", **more)
    return [(fault.line, fault.key, fault.code) for fault in caught.value.faults]


def test_a_row_becomes_the_facts_of_one_arm_and_day():
    diary = read_diary(HEADER + "2026-03-02,right,2,3,1,no\n2026-03-02,left,1,,,yes\n")
    right, left = DayFacts(2, ENOUGH, 3, False, 1), DayFacts(1, ENOUGH, None, True, None, True)
    assert diary == PaperDiary({"right": {MONDAY: right}, "left": {MONDAY: left}})


def test_an_empty_cell_means_none():
    diary = read_diary(HEADER + "2026-03-02,right,,,4,\n")
    assert diary == PaperDiary({"right": {MONDAY: DayFacts(0, NONE, None, False, 4)}})


def test_rows_may_stand_in_any_order():
    rows = ["2026-03-03,right,1,2,2,no\n", "2026-03-02,right,1,1,1,no\n"]
    assert read_diary(HEADER + "".join(rows)) == read_diary(HEADER + "".join(reversed(rows)))


def test_a_byte_order_mark_windows_line_ends_and_blank_lines_do_no_harm(tmp_path):
    path = tmp_path / "diary.csv"
    path.write_bytes(b"\xef\xbb\xbf" + HEADER.replace("\n", "\r\n").encode() + b"2026-03-02,right,1,2,1,no\r\n\r\n")
    assert load_diary(path) == PaperDiary({"right": {MONDAY: DayFacts(1, ENOUGH, 2, False, 1)}})


def test_three_faults_are_told_together():
    text = HEADER + "2026-02-30,right,1,2,1,no\n2026-03-02,lft,1,2,1,no\n2026-03-03,right,1,11,1,no\n"
    assert faults_of(text) == [(2, "on", "not_a_day"), (3, "arm", "not_one_of"), (4, "during", "out_of_range")]


@pytest.mark.parametrize("day", ["1999-12-31", "2200-01-01", "0001-01-01", "9999-12-31"])
def test_a_day_of_another_century_is_a_slip_of_the_pen(day):
    assert faults_of(HEADER + f"{day},right,1,2,1,no\n") == [(2, "on", "not_a_day")]


def test_one_row_may_have_many_faults():
    assert faults_of(HEADER + "tomorrow,knee,9,2.5,-1,maybe\n") == [
        (2, "on", "not_a_day"),
        (2, "arm", "not_one_of"),
        (2, "sessions", "out_of_range"),
        (2, "during", "not_whole"),
        (2, "morning", "out_of_range"),
        (2, "sharp", "not_yes_or_no"),
    ]


@pytest.mark.parametrize("sessions", ["0", ""])
def test_a_rating_of_a_session_that_was_not_done_is_a_fault(sessions):
    assert faults_of(HEADER + f"2026-03-02,right,{sessions},3,1,no\n") == [(2, "during", "during_without_session")]


def test_a_second_row_of_an_arm_and_day_names_the_first():
    text = HEADER + "2026-03-02,right,1,2,1,no\n2026-03-03,right,1,2,1,no\n2026-03-02,right,1,2,1,no\n"
    with pytest.raises(NotAcceptedError) as caught:
        read_diary(text)
    (fault,) = caught.value.faults
    assert (fault.line, fault.code, fault.rule) == (4, "second_row", ("right", 2))


def test_an_arm_that_the_client_does_not_train_is_a_fault():
    assert faults_of(HEADER + "2026-03-02,left,1,2,1,no\n", arms=("right",)) == [(2, "arm", "not_one_of")]


@pytest.mark.parametrize("row", ["2026-03-02,right,1\n", "2026-03-02,right,1,2,1,no,more\n"])
def test_a_row_with_too_few_or_too_many_cells_is_a_fault(row):
    assert faults_of(HEADER + row) == [(2, "row", "wrong_cells")]


@pytest.mark.parametrize(
    "header",
    [
        "",
        "on|arm|sessions|during|morning|sharp\n",
        "on,arm,sessions\n",
        "arm,on,sessions,during,morning,sharp\n",
        f"{COLUMNS},release,done\n",
        f"{COLUMNS},done,done\n",
        f"{COLUMNS},note\n",
    ],
)
def test_any_other_first_line_is_a_fault(header):
    assert faults_of(header + "2026-03-02,right,1,2,1,no\n") == [(1, "columns", "wrong_columns")]


def test_text_that_is_not_utf8_is_refused_with_its_line(tmp_path):
    path = tmp_path / "diary.csv"
    path.write_bytes(HEADER.encode() + b"2026-03-02,right,1,2,1,\xff\n")
    with pytest.raises(NotAcceptedError) as caught:
        load_diary(path)
    assert [(fault.line, fault.code) for fault in caught.value.faults] == [(2, "not_utf8")]


def test_a_header_alone_is_a_diary_of_no_days():
    assert read_diary(HEADER) == PaperDiary()


@pytest.mark.parametrize(
    ("more", "cells"), [("", ""), (",done", ","), (",release", ","), (",done,release", ",,"), (" , done", ", ")]
)
def test_done_and_release_may_be_left_out_or_left_empty(more, cells):
    text = f"{COLUMNS}{more}\n2026-03-02,right,1,2,1,no{cells}\n"
    assert read_diary(text) == read_diary(HEADER + "2026-03-02,right,1,2,1,no\n")


@pytest.mark.parametrize(
    ("sessions", "per_cent", "counts_as"),
    [
        (1, "", ENOUGH),
        (1, "100", ENOUGH),
        (1, "80", ENOUGH),
        (1, "79", PART),
        (2, "1", PART),
        (1, "0", NONE),
        (0, "", NONE),
    ],
)
def test_the_per_cent_done_decides_how_much_was_done(sessions, per_cent, counts_as):
    diary = read_diary(f"{COLUMNS},done\n2026-03-02,right,{sessions},,1,no,{per_cent}\n")
    facts = diary.facts["right"][MONDAY]
    assert (facts.done, facts.sessions, facts.is_unrated) == (
        counts_as,
        0 if counts_as == NONE else sessions,
        counts_as != NONE,
    )


@pytest.mark.parametrize(("per_cent", "code"), [("101", "out_of_range"), ("-1", "out_of_range"), ("half", "not_whole")])
def test_a_per_cent_that_cannot_be_is_a_fault(per_cent, code):
    assert faults_of(f"{COLUMNS},done\n2026-03-02,right,1,2,1,no,{per_cent}\n") == [(2, "done", code)]


@pytest.mark.parametrize("sessions", ["0", ""])
def test_work_done_without_a_session_is_a_fault(sessions):
    assert faults_of(f"{COLUMNS},done\n2026-03-02,right,{sessions},,1,no,40\n") == [(2, "done", "done_without_session")]
    assert read_diary(f"{COLUMNS},done\n2026-03-02,right,{sessions},,1,no,0\n").facts["right"][MONDAY].done == NONE


@pytest.mark.parametrize(
    ("cell", "chosen"),
    [
        ("9@0.75", Return(9, 1)),
        ("9@0.5", Return(9, 2)),
        ("9", Return(9, 1)),
        ("9@1", Return(9, 0)),
        ("12@1.0", Return(12, 0)),
    ],
)
def test_a_release_names_a_rung_and_a_range_and_counts_from_the_next_day(cell, chosen):
    diary = read_diary(f"{COLUMNS},release\n2026-03-02,right,,,1,,{cell}\n")
    assert diary.releases == {"right": {TUESDAY: chosen}}


@pytest.mark.parametrize("cell", ["0", "9@", "9@0.6", "9@75", "@0.75", "9@3/4", "x", "-1", "1000", "2.5"])
def test_a_release_that_names_no_rung_or_a_range_that_no_dose_has_is_a_fault(cell):
    assert faults_of(WITH_BOTH + f"2026-03-02,right,,,1,,,{cell}\n") == [(2, "release", "not_a_release")]


def test_a_row_as_wide_as_the_header_is_asked_for():
    assert faults_of(WITH_BOTH + "2026-03-02,right,1,2,1,no\n") == [(2, "row", "wrong_cells")]


@pytest.mark.parametrize("separator", [";", "\t"])
def test_the_form_of_a_spreadsheet_of_another_country_says_the_same(separator):
    plain = WITH_DONE + "2026-03-02,right,1,2,1,no,80\n2026-03-03,right,1,3,,yes,\n"
    theirs = "\ufeff" + plain.replace(",", separator).replace("\n", "\r\n").replace("80", "80,0")
    theirs += separator * 6 + "\r\n\r\n"
    assert read_diary(theirs.removeprefix("\ufeff")) == read_diary(plain)
    assert read_diary(theirs.removeprefix("\ufeff")).shares == read_diary(plain).shares


@pytest.mark.parametrize("day", ["3.11.2026", "11/3/2026", "03-11-26", "3/11/26"])
def test_a_day_that_may_be_two_days_is_refused_with_its_row(day):
    assert faults_of(f"{WITH_DONE}2026-03-02,right,1,2,1,no,\n{day},right,1,2,1,no,\n") == [
        (3, "on", "day_in_two_ways")
    ]


@pytest.mark.parametrize("cell", ["2,5", "2.5", "2,", "two"])
def test_a_half_is_no_rating(cell):
    assert faults_of(f'{WITH_DONE}2026-03-02,right,1,"{cell}",1,no,\n') == [(2, "during", "not_whole")]

"""Every code that the program can come to has a sentence."""

import ast

import pytest

from tests.rules.tree import files
from webapp.dosing.course import SHARP_TOLD
from webapp.dosing.responses import CLASSES, RESPONSES, SHOWN
from webapp.dosing.rules import RULES
from webapp.dosing.settings import ARMS, Client, Routine, Tuning
from webapp.dosing.state import MODES
from webapp.library.diary import COLUMNS, MORE_COLUMNS
from webapp.library.faults import FileFault
from webapp.words import arm_text, fault_text, mode_text, reason_text, response_text, words_for
from webapp.words.closed_days import CLASS_WORDS, CLASSED_BY
from webapp.words.faults import RULES as FAULT_RULES
from webapp.words.reasons import REASONS

ENGLISH = words_for("en")
BESIDE_THE_TABLE = (
    "start",
    "released",
    "own-hand",
    "own-ease",
    "hand-too-soon",
    "carried-to-the-bottom",
    "carried-over",
)


@pytest.mark.parametrize("rule", [*(rule.id for rule in RULES), *BESIDE_THE_TABLE])
def test_every_rule_has_one_plain_line_for_the_client(rule):
    text = reason_text(ENGLISH, rule)
    assert text.endswith(".")
    assert len(text) <= 120
    assert rule not in text.split()[0]


def test_no_reason_is_kept_for_a_rule_that_is_gone():
    assert set(REASONS) == {*(rule.id for rule in RULES), *BESIDE_THE_TABLE}


def test_every_row_of_the_classing_table_has_a_sentence_and_no_other_has():
    assert set(CLASSED_BY) == {*(rule.id for rule in CLASSES), SHARP_TOLD}
    assert len(set(CLASSED_BY.values())) == len(CLASSED_BY)


def test_every_response_that_is_shown_has_a_word_of_its_own():
    assert set(CLASS_WORDS) == set(SHOWN.values())
    assert len(set(CLASS_WORDS.values())) == 9


def test_responses_modes_and_arms_have_words():
    texts = [response_text(ENGLISH, each) for each in RESPONSES]
    texts += [mode_text(ENGLISH, each) for each in MODES] + [arm_text(ENGLISH, each) for each in ARMS]
    assert len(set(texts)) == len(set(SHOWN.values())) + len(MODES) + len(ARMS)


def literals_of_faults():
    """Every text handed to a call that makes a fault, in the core's settings and in the library."""
    sources = [*files(".py", under="webapp/library"), *files(".py", under="webapp/dosing")]
    for path in sources:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func).lower().endswith("fault"):
                yield from (
                    arg.value for arg in node.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)
                )


def test_every_code_of_a_fault_in_the_core_and_the_library_has_a_sentence():
    made = set(literals_of_faults())
    assert {"not_toml", "zero_missing", "second_row", "low_not_under_goal", "not_a_movement"} <= made
    named = {
        *Tuning.__dataclass_fields__,
        *Client.__dataclass_fields__,
        *COLUMNS,
        *MORE_COLUMNS,
        *Routine.__dataclass_fields__,
    }
    named |= {"", "sex", "row", "columns", "direction", "movement", "id", "like", "--on"}
    assert made - named <= set(FAULT_RULES)


def test_a_fault_names_file_line_thing_value_and_rule():
    fault = FileFault("diary.csv", 3, "during", "11", "out_of_range", (0, 10, "of 10"))
    assert fault_text(ENGLISH, fault) == "diary.csv, line 3: during is “11”: it must lie from 0 to 10 (of 10)."


def test_a_fault_without_file_or_value_says_the_rest():
    fault = FileFault("", None, "height_m", None, "missing_key")
    assert fault_text(ENGLISH, fault) == "height_m: it must be given."


def test_a_value_is_told_as_it_is_written_in_the_file():
    texts = [fault_text(ENGLISH, FileFault("", None, "k", value, "twice")) for value in (True, 0.25, "x", (0.5, 1))]
    assert [text.partition(" is ")[2].partition(":")[0] for text in texts] == ["true", "0.25", "“x”", "[0.5, 1]"]


@pytest.mark.parametrize("code", sorted(FAULT_RULES))
def test_every_rule_can_be_told_with_its_operands(code):
    text = fault_text(ENGLISH, FileFault("f", 1, "key", 3, code, (1, 2, "kg")))
    assert "%(" not in text

"""Every sentence a person reads that is not in a template, in the language asked for.

This room may know codes, amounts and catalogues; it decides nothing and reads no content.
"""

from webapp.words.amounts import load_text, minutes_text, number_text, range_text
from webapp.words.catalogue import (
    DEFAULT_LOCALE,
    PSEUDO_LOCALE,
    Words,
    lacking,
    locales_in,
    names_of,
    pseudo_words,
    read_words,
    words_for,
)
from webapp.words.cues import Spoken, StepWords, change_arm_words, step_words
from webapp.words.doses import dose_summary, set_text
from webapp.words.faults import fault_text, rule_text
from webapp.words.here import speak_at_the_terminal, words_here
from webapp.words.page_words import install
from webapp.words.reasons import arm_text, mode_text, reason_text, response_text

__all__ = [
    "DEFAULT_LOCALE",
    "PSEUDO_LOCALE",
    "Spoken",
    "StepWords",
    "Words",
    "arm_text",
    "change_arm_words",
    "dose_summary",
    "fault_text",
    "install",
    "lacking",
    "load_text",
    "locales_in",
    "minutes_text",
    "mode_text",
    "names_of",
    "number_text",
    "pseudo_words",
    "range_text",
    "read_words",
    "reason_text",
    "response_text",
    "rule_text",
    "set_text",
    "speak_at_the_terminal",
    "step_words",
    "words_for",
    "words_here",
]

"""The whole rule book: every part in the order of the page, and the seal that a clinician signs."""

from dataclasses import dataclass
from typing import NamedTuple

from webapp import __version__
from webapp.library.shelf import the_shelf
from webapp.rulebook import numbers, populations, returning, rules, shown, signs
from webapp.rulebook.checks import Walked
from webapp.rulebook.example import example_plan
from webapp.rulebook.populations import CLIENTS, Row
from webapp.rulebook.seal import seal_of
from webapp.rulebook.section import Section
from webapp.rulebook.statements import statements
from webapp.rulebook.wording import Wording
from webapp.words import Words, words_for


class Facts(NamedTuple):
    """The computed parts of a page, the same in every language: the example's whole table, and the trial."""

    walked: Walked
    trial: tuple[Row, ...]


def work_out(clients: int = CLIENTS) -> Facts:
    """Compute the table of the example and run the trial.

    Args:
        clients: Virtual clients of each kind in the trial.
    """
    plan = example_plan()
    return Facts(Walked(plan), populations.trial(plan, clients))


@dataclass(frozen=True)
class Book:
    """The rule book in words.

    Attributes:
        version: The version of the program.
        seal: A hash over the tables, in groups of four letters. It changes with any rule, number or sentence of them.
        example: The sentence that describes the example.
        sections: The parts, in the order of the page.
        notice: The safety notice, in paragraphs.
    """

    version: str
    seal: str
    example: str
    sections: tuple[Section, ...]
    notice: tuple[str, ...]


def _signed(wording: Wording, walked: Walked) -> tuple[Section, ...]:
    plan = walked.plan
    return (
        *signs.signs(wording, the_shelf()),
        rules.classes(wording),
        *rules.steps(wording),
        shown.fortnight(wording, plan),
        shown.away(wording, plan),
        shown.release(wording, plan),
        shown.ladder(wording, plan),
        returning.return_rules(wording),
        returning.return_ladders(wording),
        *numbers.bounds(wording),
        numbers.all_figures(wording),
        statements(wording, walked),
        rules.review(wording),
        rules.reasons(wording),
    )


def gather(facts: Facts, words: Words | None = None) -> Book:
    """Return the rule book in a language. The seal is always a hash over the English text.

    Args:
        facts: The result of `work_out`.
        words: The language of the page; English if left out.
    """
    shelf, walked = the_shelf(), facts.walked
    english = Wording(words_for(), shelf.sources)
    wording = english if words is None else Wording(words, shelf.sources)
    signed = _signed(english, walked)
    sections = signed if wording is english else _signed(wording, walked)
    all_sections = (*sections, populations.populations(wording, facts.trial), numbers.sources(wording))
    notice = tuple(wording.say(paragraph) for paragraph in shelf.caution.notice)
    seal = seal_of(signed, walked.table, shelf.caution.notice)
    return Book(__version__, seal, shown.example_told(wording, walked.plan), all_sections, notice)

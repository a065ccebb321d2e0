"""The whole rule book: every part in the order of the page, and the seal that a signature is for."""

from dataclasses import dataclass
from typing import NamedTuple

from webapp import __version__
from webapp.library.shelf import the_shelf
from webapp.rulebook import numbers, populations, rules, shown, signs
from webapp.rulebook.checks import Walked
from webapp.rulebook.example import example_plan
from webapp.rulebook.populations import CLIENTS, Row
from webapp.rulebook.seal import seal_of
from webapp.rulebook.section import Section
from webapp.rulebook.statements import statements
from webapp.rulebook.wording import Wording
from webapp.words import Words, words_for


class Facts(NamedTuple):
    """What is worked out for a page, whatever its language: the example's whole table, and the trial on it."""

    walked: Walked
    trial: tuple[Row, ...]


def work_out(clients: int = CLIENTS) -> Facts:
    """Work out what the page tells of the example.

    Args:
        clients: Virtual clients of each kind in the trial.
    """
    plan = example_plan()
    return Facts(Walked(plan), populations.trial(plan, clients))


@dataclass(frozen=True)
class Book:
    """The rule book in words.

    Attributes:
        version: Of the program.
        seal: A hash over the tables, in groups of four letters: it changes with any rule, number or sentence of them.
        example: Who the example is.
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
        *numbers.bounds(wording),
        numbers.all_figures(wording),
        statements(wording, walked),
        rules.review(wording),
        rules.reasons(wording),
    )


def gather(facts: Facts, words: Words | None = None) -> Book:
    """Gather the tables that the program runs on; the seal is made of their English, whatever the language.

    Args:
        facts: By `work_out`.
        words: The language of the page; English if left out.
    """
    shelf, walked = the_shelf(), facts.walked
    english = Wording(words_for(), shelf.sources)
    wording = english if words is None else Wording(words, shelf.sources)
    signed = _signed(english, walked)
    sections = signed if wording is english else _signed(wording, walked)
    told = (*sections, populations.populations(wording, facts.trial), numbers.sources(wording))
    notice = tuple(wording.say(paragraph) for paragraph in shelf.caution.notice)
    seal = seal_of(signed, walked.table, shelf.caution.notice)
    return Book(__version__, seal, shown.example_told(wording, walked.plan), told, notice)

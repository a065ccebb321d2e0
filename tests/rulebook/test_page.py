"""The page that a clinician signs: everything that decides is on it, and it is one file."""

import re
from html.parser import HTMLParser

import pytest

from webapp.cli import main
from webapp.dosing.responses import CLASSES
from webapp.dosing.returning.rules import ABSENCES, RETURN_RULES
from webapp.dosing.review import FINDINGS
from webapp.dosing.rules import RULES
from webapp.dosing.settings import BOUNDS
from webapp.events.kinds import LEVELS
from webapp.library.ladders import the_ladders
from webapp.library.shelf import the_shelf
from webapp.rulebook.book import gather, work_out
from webapp.rulebook.numbers import every_figure
from webapp.rulebook.page import page_of
from webapp.rulebook.rules import TUNED
from webapp.rulebook.wording import Wording
from webapp.words import pseudo_words, words_for
from webapp.words.populations import POPULATIONS
from webapp.words.rulebook_review import CHECKLIST, QUESTIONS, UNKNOWN

ADDRESS = re.compile(r"(?:https?:)?//[\w.]|url\(|@import|\b(?:src|action|data)\s*=|\bhref=.(?!#)", re.IGNORECASE)
LETTERS = re.compile(r"[^\W\d_]{2,}")


class Reader(HTMLParser):
    """Collects what a person reads, cell by cell, and the names of the elements."""

    def __init__(self):
        super().__init__()
        self.texts, self.elements, self.open = [], set(), []

    def handle_starttag(self, tag, _attrs):
        self.elements.add(tag)
        self.open.append(tag)

    def handle_endtag(self, tag):
        while self.open and self.open.pop() != tag:
            pass

    def handle_data(self, data):
        if "style" not in self.open and data.strip():
            self.texts.append(data.strip())


def read(page):
    reader = Reader()
    reader.feed(page)
    return reader


@pytest.fixture(scope="module")
def facts():
    return work_out(clients=10)


@pytest.fixture(scope="module")
def book(facts):
    return gather(facts)


@pytest.fixture(scope="module")
def page(book):
    return page_of(book)


@pytest.fixture(scope="module")
def texts(page):
    return read(page).texts


@pytest.fixture(scope="module")
def rows(book):
    """The rows of each part by the part's id."""
    return {section.id: section.rows for section in book.sections}


def test_every_row_that_classes_a_day_is_there_with_its_number(rows):
    for rule, row in zip(CLASSES, rows["classes"], strict=True):
        assert row[:2] == (rule.id, rule.condition)
        assert rule.id in TUNED or row[2] == (f"{rule.limit:g}" if rule.limit else "–")


def test_every_rule_is_there_in_the_order_in_which_it_is_read(rows):
    ids = [row for step in ("own", "first-week", "gap") for row in rows[step]]
    assert [(row[0], row[2], row[4]) for row in ids] == [(rule.id, rule.condition, rule.effect) for rule in RULES]


def test_every_rule_says_what_the_client_reads(rows):
    assert {rule.id for rule in RULES} <= {row[0] for row in rows["reasons"]}


def test_every_bound_is_there_once_with_its_limits(rows):
    limits = [row[2:5] for part in ("tuned", "entered") for row in rows[part]]
    expected = [(f"{bound.low:g}", f"{bound.high:g}", bound.unit) for bound in BOUNDS.values()]
    assert sorted(limits) == sorted(expected)


def test_every_figure_is_there_with_its_unit(rows):
    figures = [figure for *_, figure in every_figure()]
    assert len(figures) > 40
    for figure, row in zip(figures, rows["figures"], strict=True):
        assert float(row[1]) == pytest.approx(figure.value, abs=5e-6)
        assert row[2] == figure.unit


def test_every_finding_of_the_review_is_there(rows):
    found = {row[0]: row[1] for row in rows["review"]}
    assert found == {watch.id: watch.condition for watch in FINDINGS}


def held_by(sign):
    return "nothing" if sign.level == "ask_first" else "both arms" if sign.is_whole else "the arm it is about"


def test_every_warning_sign_is_there_under_its_level(book):
    shelf, parts = the_shelf(), {section.id: section for section in book.sections}
    for level in LEVELS:
        part = parts[f"signs-{level.replace('_', '-')}"]
        assert [row[:2] for row in part.rows] == [
            (sign.id, sign.text) for sign in shelf.warnings if sign.level == level
        ]
        assert [row[2] for row in part.rows] == [held_by(sign) for sign in shelf.warnings if sign.level == level]
        assert shelf.to_do[level] in part.notes[0]


def test_every_basis_is_a_source_with_a_title_on_the_page(rows):
    titles = {row[0]: row[1] for row in rows["sources"]}
    keys = {rule.basis for rule in (*CLASSES, *RULES, *FINDINGS)} | {bound.basis for bound in BOUNDS.values()}
    keys |= {figure.source for *_, figure in every_figure()}
    assert all(titles[key] == the_shelf().sources[key].cite for key in keys)


def test_a_basis_without_a_source_is_refused():
    with pytest.raises(KeyError):
        Wording(words_for(), the_shelf().sources).basis("nobody-2031")


def test_whatever_the_parts_hold_stands_on_the_page(book, texts):
    shown = {" ".join(text.split()) for text in texts}
    for section in book.sections:
        assert section.title in shown
        assert {" ".join(cell.split()) for row in section.rows for cell in row} <= shown
    assert {*CHECKLIST, *QUESTIONS, *UNKNOWN} <= shown
    assert {book.seal, book.version} <= shown


def test_every_kind_of_invented_client_is_there_with_the_plan_on_paper_beside(rows, facts):
    populations = {row[0] for row in rows["populations"]}
    assert populations == {POPULATIONS[row["population"]] for row in facts.trial}
    assert len(populations) > 10
    ordinary = [row for row in facts.trial if row["population"] == "ordinary"]
    on_paper = " / ".join(f"{row['paper.flare_days']:.1f}" for row in ordinary)
    assert rows["populations"][0][2] == on_paper


def test_the_simulation_is_no_part_of_the_seal(facts, book):
    assert gather(facts._replace(trial=facts.trial[:3])).seal == book.seal


def test_no_statement_has_a_case_against_it(rows):
    checked = [row[2] for row in rows["statements"]]
    assert len(checked) == 9
    assert sum("none against it" in cell for cell in checked) == 8


def test_the_page_is_one_file_without_scripts_and_addresses(page):
    assert not ADDRESS.findall(page)
    assert not {"script", "link", "img", "iframe", "object"} & read(page).elements


def test_the_page_says_that_nobody_has_signed_it(texts):
    assert any("No clinician has signed" in text for text in texts)
    assert {"Name", "Profession and registration number", "Date", "Signature"} <= set(texts)


def test_every_sentence_goes_through_the_catalogue(facts, book):
    locale = pseudo_words().locale
    depth, bare = 0, []
    for text in read(page_of(gather(facts, pseudo_words()), locale)).texts:
        for letter in text:
            depth += (letter == "[") - (letter == "]")
        if "[" not in text and depth == 0 and LETTERS.search(text):
            bare.append(text)
    assert depth == 0
    assert not set(bare) - codes_of(book)


def codes_of(book):
    """Ids and keys, which are nobody's to translate."""
    ids = {row[0] for section in book.sections for row in section.rows if re.fullmatch(r"[a-z0-9-]+", row[0])}
    return ids | {sign.id for sign in the_shelf().warnings} | {book.seal, f"{book.version} ·"}


@pytest.mark.long
def test_the_command_writes_the_page_to_a_file(tmp_path, capsys, page):
    path = tmp_path / "rules.html"
    assert main(["rulebook", "--clients", "10", "--output", str(path)]) == 0
    assert path.read_text(encoding="utf-8") == page
    assert str(path) in capsys.readouterr().out


def test_a_number_of_clients_out_of_bounds_is_named_with_its_range(capsys):
    assert main(["rulebook", "--clients", "9"]) == 2
    heard = capsys.readouterr()
    assert "--clients is 9: it must" in heard.err
    assert "10 to 5000" in heard.err
    assert not heard.out


def test_a_file_that_cannot_be_written_is_named_with_the_reason(tmp_path, capsys):
    path = tmp_path / "nowhere" / "rules.html"
    assert main(["rulebook", "--output", str(path)]) == 2
    assert str(path) in capsys.readouterr().err


def test_the_way_back_is_there_with_every_rule_absence_and_step(rows):
    assert [row[0] for row in rows["return"]] == [each.id for each in (*RETURN_RULES, *ABSENCES)]
    steps = [step for page in the_ladders().values() for step in page.ladder.steps]
    assert [row[2:4] for row in rows["return-ladders"]] == [
        (str(each.days_a_week), str(each.minutes)) for each in steps
    ]

"""The rule book as one HTML page with its style inside, so that it can be mailed, printed and kept as one file."""

from importlib import resources
from types import SimpleNamespace

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from webapp.rulebook.book import Book
from webapp.words import DEFAULT_LOCALE, install
from webapp.words.rulebook_review import CHECKLIST, QUESTIONS, UNKNOWN
from webapp.words.rulebook_terms import MARKS, MARKS_TOLD

SHEETS = ("colours.css", "page.css", "tables.css", "form.css")


def _templates() -> Environment:
    environment = Environment(
        loader=PackageLoader("webapp"), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    install(SimpleNamespace(jinja_env=environment))
    return environment


def _style() -> Markup:
    folder = resources.files("webapp.rulebook")
    sheet = "".join(folder.joinpath(name).read_text(encoding="utf-8") for name in SHEETS)
    return Markup(f"<style>\n{sheet}</style>")  # noqa: S704 - our own file


def page_of(book: Book, locale: str = DEFAULT_LOCALE) -> str:
    """Return the whole page.

    Args:
        book: The result of `book.gather`, in the same language.
        locale: The language of the text around the tables.
    """
    return (
        _templates()
        .get_template("rulebook/page.html")
        .render(
            book=book,
            locale=locale,
            style=_style(),
            marks=[(MARKS[mark], MARKS_TOLD[mark]) for mark in MARKS],
            unknown=UNKNOWN,
            checklist=CHECKLIST,
            questions=QUESTIONS,
        )
    )

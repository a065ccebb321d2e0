"""Collects every sentence that can be translated into content/locale/halfturn.pot, and brings each .po file up to date.

    python3 tests/run.py words

What is written depends on the sentences alone: no date, no number of a line. A translation stays with its English, letter
by letter; where the English is gone, the translation is dropped and told.
"""

import sys
import tomllib
from io import BytesIO

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po
from jinja2.ext import babel_extract

from tests.rules.tree import ROOT
from webapp.dosing.responses import CLASSES
from webapp.dosing.returning.rules import ABSENCES, RETURN_RULES
from webapp.dosing.review import FINDINGS
from webapp.dosing.rules import RULES
from webapp.dosing.settings import BOUNDS
from webapp.rulebook.numbers import every_figure

LOCALES = ROOT / "content" / "locale"
TEMPLATE = LOCALES / "halfturn.pot"
IN_PYTHON = {"mark": None, "say": None, "mark_plural": (1, 2), "plural": (1, 2), "form": (1, 2)}
IN_PAGES = {"_": None, "ngettext": (1, 2)}
# What a key of content/*.toml holds: sentences, or codes that nobody reads. A table of sources holds keys.
SENTENCES = {
    "name",
    "how",
    "mistakes",
    "leave_out",
    "text",
    "short",
    "notice",
    "title",
    "cite",
    "gives",
    "heading",
    "caution",
    "adds",
    "strokes",
}
TABLES_OF_SENTENCES = {"cues", "do", "note"}
CODES = {"id", "kind", "direction", "directions", "level", "area", "mark", "movement", "stretches", "picture"}
# Lines of a file's head that are dates, or stand for what nobody has said yet.
NOT_KEPT = (
    b'"POT-Creation-Date:', b'"Generated-By:', b'"Report-Msgid-Bugs-To: EMAIL', b'"PO-Revision-Date: YEAR',
    b'"Last-Translator: FULL', b'"Language-Team: LANGUAGE', b'"Project-Id-Version: PROJECT',
)  # fmt: skip
NOBODY = b"<LL@li.org>"


def collect():
    """Return every sentence of the program as a catalogue, with the files that each stands in."""
    catalog = Catalog(fuzzy=False, header_comment="# Every sentence of Halfturn, in English.")
    for path in _files():
        for line, message in _found_in(path):
            catalog.add(message, locations=[(path.relative_to(ROOT).as_posix(), line)])
    for name, texts in _in_tables().items():
        for line, text in enumerate(texts):
            catalog.add(text, locations=[(f"webapp/dosing/{name}.py", line)])
    return catalog


def read_language(path):
    """Return the catalogue of a .po file; its name is the tag of its language."""
    with path.open("rb") as source:
        return read_po(source, locale=path.stem, abort_invalid=True)


def updated(catalog, sentences):
    """Make a language's catalogue hold exactly these sentences. Return the English of every translation that is dropped."""
    catalog.update(sentences, no_fuzzy_matching=True, update_header_comment=False)
    dropped = [message.id for message in catalog.obsolete.values() if any(strings(message))]
    catalog.obsolete.clear()
    return dropped


def strings(message):
    """Return the translations of a message: one, or one for each plural form."""
    string = message.string or ""
    return (string,) if isinstance(string, str) else tuple(string)


def written(catalog):
    """Return a catalogue as the bytes of its file."""
    whole = BytesIO()
    write_po(whole, catalog, width=0, sort_by_file=True, include_lineno=False)
    lines = whole.getvalue().rstrip(b"\n").split(b"\n")
    return b"".join(line + b"\n" for line in lines if not line.startswith(NOT_KEPT) and NOBODY not in line)


def _files():
    yield from sorted((ROOT / "webapp").rglob("*.py"))
    yield from sorted(path for path in (ROOT / "webapp" / "templates").rglob("*") if path.suffix in {".html", ".json"})
    yield from sorted((ROOT / "content").rglob("*.toml"))


def _found_in(path):
    if path.suffix == ".toml":
        yield from enumerate(sentences_in(tomllib.loads(path.read_text(encoding="utf-8"))), start=1)
        return
    method, keywords = ("python", IN_PYTHON) if path.suffix == ".py" else (babel_extract, IN_PAGES)
    with path.open("rb") as source:
        for line, message, _, _ in extract(method, source, keywords, options={"silent": "false"}):
            yield line, message


def sentences_in(table):
    """Yield the sentences of a table of content.

    Raises:
        LookupError: The table has a text under a key of which nobody has said whether it is a sentence.
    """
    for key, value in table.items():
        for entry in value if isinstance(value, list) else [value]:
            if isinstance(entry, dict) and key != "sources":
                yield from entry.values() if key in TABLES_OF_SENTENCES else sentences_in(entry)
            elif key in SENTENCES:
                yield entry
            elif isinstance(entry, str) and key not in CODES | {"sources"}:
                raise LookupError(f"Is {key!r} a sentence? Put it into SENTENCES or CODES.")


def _in_tables():
    """Return the short texts of the core's own tables, which the rule book shows; the core knows no catalogue."""
    return {
        "responses": [row.condition for row in CLASSES],
        "rules": [text for row in RULES for text in (row.condition, row.effect)],
        "returning/rules": [text for row in RETURN_RULES for text in (row.condition, row.effect)]
        + [absence.effect for absence in ABSENCES],
        "review": [watch.condition for watch in FINDINGS],
        "settings": [bound.unit for bound in BOUNDS.values()],
        "figures": [figure.unit for _, _, figure in every_figure()],
    }


def main():
    """Write the sentences and every language; tell what is to be translated and what was dropped."""
    sentences = collect()
    TEMPLATE.write_bytes(written(sentences))
    sys.stdout.write(f"{TEMPLATE.name}: {len(sentences)} sentences\n")
    for path in sorted(LOCALES.glob("*.po")):
        catalog = read_language(path)
        dropped = updated(catalog, sentences)
        path.write_bytes(written(catalog))
        missing = sum(1 for message in catalog if message.id and not all(strings(message)))
        sys.stdout.write(f"{path.name}: {missing} to translate, {len(dropped)} dropped\n")
        sys.stdout.writelines(f"  dropped: {text}\n" for text in dropped)


if __name__ == "__main__":
    main()

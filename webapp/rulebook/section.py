"""One part of the page: a title, some paragraphs and a table. Knows nothing of what the table is about."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Section:
    """A part of the rule book, in words.

    Attributes:
        id: A stable word; the part's anchor on the page.
        title: The heading.
        notes: Paragraphs before the table.
        head: Titles of the columns; empty where there is no table.
        rows: The table, each row as long as `head`; the first cell names the row.
    """

    id: str
    title: str
    notes: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()

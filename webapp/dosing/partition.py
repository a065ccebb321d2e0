"""Partition refinement: group the rows of a closed table that behave the same. Knows only tables of numbers."""

from collections.abc import Hashable, Iterable, Sequence

Column = Sequence[int]


def _numbered(keys: Iterable[Hashable]) -> list[int]:
    """Return a number for each key; equal keys get equal numbers, in the order in which they first appear."""
    numbers: dict[Hashable, int] = {}
    return [numbers.setdefault(key, len(numbers)) for key in keys]


def _split(classes: list[int], columns: Iterable[Column]) -> list[int]:
    """Split each class where the columns lead its rows to different classes."""
    leads_to = (map(classes.__getitem__, column) for column in columns)
    return _numbered(zip(classes, *leads_to, strict=True))


def _split_along(classes: list[int], column: Column) -> list[int]:
    """Split classes by one column alone, followed over one step, three steps, seven and so on."""
    while (finer := _split(classes, [column])) != classes:
        classes, column = finer, [column[row] for row in column]
    return classes


def classes_of(labels: Iterable[Hashable], columns: Sequence[Column], far: Iterable[Column] = ()) -> list[int]:
    """Sort rows into the fewest classes such that rows of a class have equal labels and lead to equal classes.

    Args:
        labels: A label for each row. Rows with different labels are in different classes.
        columns: Each column holds, for each row, the row that it leads to.
        far: Some of the columns, to follow many steps ahead first. This changes only the time that it takes: otherwise
            a difference many steps away costs a round over all columns for each step.

    Returns:
        The class of each row; classes are numbered in the order in which they first appear.
    """
    classes = _numbered(labels)
    for column in far:
        classes = _split_along(classes, column)
    while (finer := _split(classes, columns)) != classes:
        classes = finer
    return classes

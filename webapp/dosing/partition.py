"""Which rows of a closed table no run of look-ups can tell apart. Knows tables of numbers, and nothing of dosing."""

from collections.abc import Hashable, Iterable, Sequence

Column = Sequence[int]


def _numbered(keys: Iterable[Hashable]) -> list[int]:
    """Number keys in the order in which they first come."""
    numbers: dict[Hashable, int] = {}
    return [numbers.setdefault(key, len(numbers)) for key in keys]


def _split(classes: list[int], columns: Iterable[Column]) -> list[int]:
    """Split classes by those that their rows lead to."""
    leads_to = (map(classes.__getitem__, column) for column in columns)
    return _numbered(zip(classes, *leads_to, strict=True))


def _split_along(classes: list[int], column: Column) -> list[int]:
    """Split classes by what the same column leads to again and again: over one step, three, seven and so on."""
    while (finer := _split(classes, [column])) != classes:
        classes, column = finer, [column[row] for row in column]
    return classes


def classes_of(labels: Iterable[Hashable], columns: Sequence[Column], far: Iterable[Column] = ()) -> list[int]:
    """Sort rows into the fewest classes with equal labels that lead, by each column, to equal classes.

    Args:
        labels: What tells rows apart by themselves, one for each row.
        columns: The row that each row leads to, one for each row.
        far: Those of the columns to follow first, and far: it changes nothing but how long this takes, as a
            difference that is many steps away would else take a round over all columns for each of them.

    Returns:
        The class of each row, numbered in the order of the rows.
    """
    classes = _numbered(labels)
    for column in far:
        classes = _split_along(classes, column)
    while (finer := _split(classes, columns)) != classes:
        classes = finer
    return classes

"""The error of an unusable database file: a code, and the values for its sentence."""


class RecordsError(Exception):
    """The database file cannot be used in its present form.

    Attributes:
        code: A stable code; its sentence is in `webapp/words/upkeep.py`.
        gaps: The values for the sentence; `path` is always among them.
    """

    def __init__(self, code: str, **gaps: object) -> None:
        super().__init__(" ".join([code, *(str(value) for value in gaps.values())]))
        self.code, self.gaps = code, gaps

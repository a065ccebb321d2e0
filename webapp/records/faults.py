"""What can be wrong with the file of the records, as a code and the values that its sentence names."""


class RecordsError(Exception):
    """The records cannot be used as they lie.

    Attributes:
        code: Stable; the sentence for it stands in `webapp/words/upkeep.py`.
        gaps: What the sentence names; `path` is always among them.
    """

    def __init__(self, code: str, **gaps: object) -> None:
        super().__init__(" ".join([code, *(str(value) for value in gaps.values())]))
        self.code, self.gaps = code, gaps

"""The bodies of letters, and of what says that letters were read, as JSON."""

from msgspec import Struct


class LetterBody(Struct, kw_only=True):
    """A letter to the practitioner."""

    text: str


class AnswerBody(Struct, kw_only=True):
    """A letter of the practice to the client: its text, and the name of who wrote it."""

    text: str
    by: str


class LettersBody(Struct, kw_only=True):
    """The ids of letters that were read."""

    letters: list[str]

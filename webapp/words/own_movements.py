"""The sentences that stand beside a movement of a practice's own: its words are the practice's, its cautions are not.

May know kinds of movements; knows no practice.
"""

from unicodedata import bidirectional

from webapp.words.catalogue import Words, mark

STOP_ABOVE = mark("Stop this movement if it hurts more than 5 of 10.")
RIGHT_TO_LEFT = frozenset({"R", "AL"})
_ISOLATED = "\u2068%s\u2069"


def cautions_of(words: Words, kind: str, own: str | None) -> tuple[str, ...]:
    """Return the cautions of an own movement beside that of the shipped one: for a lift when to stop; then the practice's own."""
    always = (words.say(STOP_ABOVE),) if kind == "lift" else ()
    return always + ((own,) if own else ())


def isolated(name: str) -> str:
    """Return a name so that it may stand in a sentence of another direction; a name without right-to-left letters is unchanged."""
    return _ISOLATED % name if any(bidirectional(letter) in RIGHT_TO_LEFT for letter in name) else name

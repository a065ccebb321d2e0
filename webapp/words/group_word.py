"""What a practitioner agrees to for a group in advance. Its hash is kept with the group, so it is known to which words."""

import hashlib

from webapp.words.catalogue import mark

WORD = mark(
    "Whoever ticks no warning sign, hurts at the place of this routine, tells weight and height and a usual morning of 0 to 3,"
    " starts on its lowest rung without my looking first. I answer for that. Everybody else waits for me."
)

WORD_MARK = hashlib.sha256(WORD.encode()).hexdigest()[:16]
"""Changes with every change of these words in English."""

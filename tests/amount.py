"""How much a test draws: a little in the ordinary run, all of it in the long trials.

Such a test bears the marker `drawn`, so that the word `long` runs it too, and then at its full length.
"""

import os

IS_AT_LENGTH = os.environ.get("TESTS_AT_LENGTH") == "1"


def drawn(few: int, many: int) -> int:
    """How many to draw: `few` in the ordinary run, `many` in the long trials."""
    return many if IS_AT_LENGTH else few

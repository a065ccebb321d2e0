"""The language of the command line: chosen once, from the environment.

May know the catalogues and how a terminal names its language.
"""

from collections.abc import Mapping, Sequence
from contextvars import ContextVar

from webapp.words.catalogue import DEFAULT_LOCALE, Words, words_for

_terminal: ContextVar[str] = ContextVar("terminal", default=DEFAULT_LOCALE)


def speak_at_the_terminal(environ: Mapping[str, str], served: Sequence[str]) -> None:
    """Choose the language of the command line for the rest of this process.

    Args:
        environ: The environment; the first of LC_ALL, LC_MESSAGES and LANG that is set names a language, as in POSIX.
        served: The served languages; the first is taken where the environment names none of them.
    """
    named = next((environ[name] for name in ("LC_ALL", "LC_MESSAGES", "LANG") if environ.get(name)), "")
    wanted = named.partition(".")[0].replace("_", "-")
    tags = (wanted, wanted.partition("-")[0])
    _terminal.set(next((tag for tag in tags if tag in served), next(iter(served), DEFAULT_LOCALE)))


def words_here() -> Words:
    """Return the words of the command line (see `speak_at_the_terminal`); English before a language is chosen."""
    return words_for(_terminal.get())

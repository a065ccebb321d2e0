"""`halfturn serve`: what its help says of the settings, and its recipes.

Knows the terminal; the server itself is loaded only to serve.
"""

import argparse
import sys
from collections.abc import Callable

from webapp.config import Settings
from webapp.serving.recipes import RECIPES, recipe
from webapp.words import Words
from webapp.words.serving import DEFAULT, EXAMPLE, RECIPE, SETTINGS, SETTINGS_TITLE


def offer(parser: argparse.ArgumentParser, words: Words) -> None:
    """Add the option, and every setting to the help."""
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "\n\n".join([words.say(SETTINGS_TITLE), *(_entry(name, words) for name in SETTINGS)])
    parser.add_argument("--recipe", choices=RECIPES, help=words.say(RECIPE))


def run(asked: argparse.Namespace, read: Callable[[], Settings], read_checked: Callable[[], Settings]) -> int:
    """Serve until stopped, or print a recipe for these settings.

    Args:
        asked: The command line.
        read: Reads the settings.
        read_checked: The same, and refuses a database that cannot be there.
    """
    if asked.recipe:
        sys.stdout.write(recipe(asked.recipe, read()))
        return 0
    from webapp.serving.server import serve  # noqa: PLC0415 - the web rooms load to serve only

    serve(read_checked())
    return 0


def _entry(name: str, words: Words) -> str:
    told = SETTINGS[name]
    lines = [words.say(told.meaning), words.say(DEFAULT, value=words.say(told.default))]
    lines.append(words.say(EXAMPLE, value=f"{name}={told.example}"))
    return "\n".join([f"  {name}", *(f"      {line}" for text in lines for line in text.split("\n"))])

"""`halfturn serve`: its help about the settings, and its recipes.

Knows the terminal. The server itself is imported only in order to serve.
"""

import argparse
import sys
from collections.abc import Callable

from webapp.config import Settings
from webapp.serving.recipes import RECIPES, recipe
from webapp.words import Words
from webapp.words.serving import DEFAULT, EXAMPLE, RECIPE, SETTINGS, SETTINGS_TITLE


def offer(parser: argparse.ArgumentParser, words: Words) -> None:
    """Add the option `--recipe` to the parser, and every setting to its help."""
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "\n\n".join([words.say(SETTINGS_TITLE), *(_entry(name, words) for name in SETTINGS)])
    parser.add_argument("--recipe", choices=RECIPES, help=words.say(RECIPE))


def run(args: argparse.Namespace, read: Callable[[], Settings], read_checked: Callable[[], Settings]) -> int:
    """Serve until stopped, or print a recipe for these settings.

    Args:
        args: The parsed arguments.
        read: Reads the settings.
        read_checked: Reads the settings, and refuses a database path that cannot exist.
    """
    if args.recipe:
        sys.stdout.write(recipe(args.recipe, read()))
        return 0
    from webapp.serving.server import serve  # noqa: PLC0415 - the web rooms load to serve only

    serve(read_checked())
    return 0


def _entry(name: str, words: Words) -> str:
    setting = SETTINGS[name]
    example = f"{name}={setting.example}"
    lines = [words.say(setting.meaning), words.say(DEFAULT, value=words.say(setting.default))]
    lines.append(words.say(EXAMPLE, value=example))
    return "\n".join([f"  {name}", *(f"      {line}" for text in lines for line in text.split("\n"))])

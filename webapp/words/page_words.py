"""Words in templates: `_()` and `ngettext()` in the language of the page, its direction and its plural categories.

A page says its language by the template variable `locale`; without one it is English.
Macros that speak are imported `with context`.
"""

from collections.abc import Callable
from typing import Any

from jinja2 import pass_context
from jinja2.runtime import Context

from webapp.words.catalogue import DEFAULT_LOCALE, Words, words_for


def install(app: Any, find: Callable[[str], Words] = words_for) -> None:
    """Make the words available to the templates of an application.

    Args:
        app: Anything with a Jinja environment at `jinja_env`, such as a Flask application.
        find: Returns the words of a tag.
    """

    def words_of(context: Context) -> Words:
        return find(context.get("locale") or DEFAULT_LOCALE)

    @pass_context
    def gettext(context: Context, msgid: str) -> str:
        return words_of(context).say(msgid)

    @pass_context
    def ngettext(context: Context, singular: str, many: str, n: int) -> str:
        return words_of(context).form(singular, many, n)

    @pass_context
    def text_direction(context: Context) -> str:
        return words_of(context).direction

    @pass_context
    def plural_categories(context: Context) -> tuple[tuple[str, int], ...]:
        return words_of(context).categories

    @pass_context
    def list_of_two(context: Context) -> str:
        return words_of(context).list_of_two

    app.jinja_env.add_extension("jinja2.ext.i18n")
    app.jinja_env.install_gettext_callables(gettext, ngettext, newstyle=True)
    app.jinja_env.globals.update(
        text_direction=text_direction, plural_categories=plural_categories, list_of_two=list_of_two
    )

"""Words in templates: `_()`, `ngettext()` and the trans tag in the language of the page.

A page says its language by the template variable `locale`; without one it is English.
Macros that speak are imported `with context`.
"""

from typing import Any

from jinja2 import pass_context
from jinja2.runtime import Context

from webapp.words.catalogue import DEFAULT_LOCALE, Words, words_for


def _words_of(context: Context) -> Words:
    return words_for(context.get("locale") or DEFAULT_LOCALE)


@pass_context
def _gettext(context: Context, msgid: str) -> str:
    return _words_of(context).say(msgid)


@pass_context
def _ngettext(context: Context, singular: str, many: str, n: int) -> str:
    return _words_of(context).form(singular, many, n)


def install(app: Any) -> None:
    """Make the words available to the templates of an application.

    Args:
        app: Anything with a Jinja environment at `jinja_env`, such as a Flask application.
    """
    app.jinja_env.add_extension("jinja2.ext.i18n")
    app.jinja_env.install_gettext_callables(_gettext, _ngettext, newstyle=True)

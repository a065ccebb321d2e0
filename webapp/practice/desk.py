"""What every page of the site starts from: the records, the clock, who is signed in, whose case it is."""

from datetime import datetime
from typing import Any, cast

from flask import abort, current_app, flash, g, redirect, url_for
from werkzeug.wrappers import Response

from webapp.config import Settings
from webapp.records import cases
from webapp.records.cases import Case
from webapp.records.database import Database
from webapp.records.practitioners import Practitioner
from webapp.sync.tries import Tries
from webapp.words.catalogue import DEFAULT_LOCALE, Words, words_for


def _program() -> Any:
    return current_app.extensions["halfturn"]


def settings() -> Settings:
    """Give the settings of the running program."""
    return cast("Settings", _program().settings)


def now() -> datetime:
    """Give the present instant, UTC."""
    return cast("datetime", _program().clock())


def records() -> Database:
    """Give this request's records."""
    return cast("Database", _program().db())


def tries() -> Tries:
    """Return the failed tries of everybody."""
    return cast("Tries", _program().tries)


def locale() -> str:
    """Give the language of the site: the first of those served."""
    return next(iter(settings().locales), DEFAULT_LOCALE)


def words() -> Words:
    """Give the words of the site's language."""
    return words_for(locale())


def signed_in() -> Practitioner:
    """Give who is signed in; the door has seen to it that somebody is."""
    return cast("Practitioner", g.practitioner)


def own_case(public_id: str) -> Case:
    """Find one of the practitioner's own clients; 404 for anybody else's, and for nobody's."""
    found = cases.find(records(), signed_in().id, public_id)
    return found or abort(404)


def say_later(code: str, named: object = "") -> None:
    """Have the next page say that something was done."""
    flash(f"{code}\n{named}")


def back_to_case(case: Case) -> Response:
    """Send the browser to a case page, as after something was done."""
    return redirect(url_for("practice.case.show", public_id=case.public_id), 303)


def send_again(case: Case) -> Response:
    """Refuse a button without its token: nothing was done, and the case page says so."""
    say_later("send_again")
    return back_to_case(case)

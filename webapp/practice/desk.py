"""What every page of the site needs: the records, the clock, the practitioner who is signed in, their case."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, cast

from flask import abort, current_app, flash, g, redirect, request, session, url_for
from werkzeug.wrappers import Response

from webapp.config import Settings
from webapp.dosing.settings import BOUNDS, Bound
from webapp.records import cases, hand_overs, practices, recovery
from webapp.records.cases import Case
from webapp.records.database import Database
from webapp.records.hand_overs import HandOver
from webapp.records.practices import Practice
from webapp.records.practitioners import Practitioner
from webapp.records.recovery import PasswordEvent
from webapp.sync.carrying.waiting import WaitingFiles
from webapp.sync.limits.tries import Tries
from webapp.sync.log.local_day import zone_of
from webapp.words.catalogue import Words, names_of, words_for

KEPT_HERE = "kept_here"


def _program() -> Any:
    return current_app.extensions["halfturn"]


def settings() -> Settings:
    """Return the settings of the running program."""
    return cast("Settings", _program().settings)


def now() -> datetime:
    """Return the present instant, UTC."""
    return cast("datetime", _program().clock())


def records() -> Database:
    """Return this request's records."""
    return cast("Database", _program().db())


def tries() -> Tries:
    """Return the counts of failed tries, of passwords and of short codes."""
    return cast("Tries", _program().tries)


def waiting() -> WaitingFiles:
    """Return the files of clients that were shown and wait to be taken in."""
    return cast("WaitingFiles", _program().waiting)


def locale() -> str:
    """Return the language of the page: the practitioner's own, else the served one that the browser prefers."""
    served, reader = settings().locales, g.get("practitioner")
    if reader and reader.locale in served:
        return cast("str", reader.locale)
    return request.accept_languages.best_match(served, served[0])


def served_languages() -> list[tuple[str, str]]:
    """Return the served languages as choices for a form: the tag, and the language's name in itself."""
    return names_of(settings().locales)


def words() -> Words:
    """Return the catalogue of the site's language."""
    return words_for(locale())


def signed_in() -> Practitioner:
    """Return the practitioner who is signed in; `let_in` has checked before every page that there is one."""
    return cast("Practitioner", g.practitioner)


def owner() -> Practitioner:
    """Return the practitioner who is signed in, if they are an owner of the practice; 404 for a member."""
    return signed_in() if signed_in().is_owner else abort(404)


def practice() -> Practice:
    """Return the practice of who is signed in."""
    if "practice" not in g:
        g.practice = practices.find(records(), signed_in().practice)
    return cast("Practice", g.practice)


def bounds() -> dict[str, Bound]:
    """Return the core's bounds, where the practice has narrower ones narrowed to these."""
    own = practice().bounds or {}
    return BOUNDS | {name: BOUNDS[name]._replace(low=low, high=high) for name, (low, high) in own.items()}


def tuned(tuning: Mapping[str, Any]) -> dict[str, Any]:
    """Return the tuning of a new client: the practice's own values over a starter's, each within the practice's bounds."""
    narrowed = {name: bound for name, bound in bounds().items() if name in tuning}
    chosen = {**tuning, **(practice().tunings or {})}
    return chosen | {name: min(max(chosen[name], bound.low), bound.high) for name, bound in narrowed.items()}


def is_within_bounds(tuning: Mapping[str, Any]) -> bool:
    """Whether a tuning lies within the practice's bounds; one that was pushed before they were narrowed may not."""
    own = practice().bounds or {}
    return all(low <= tuning.get(name, low) <= high for name, (low, high) in own.items())


def own_case(public_id: str) -> Case:
    """Return one of the practitioner's own cases; 404 for another practitioner's case or an unknown id.

    Every page and act about a case goes through here. An owner is no exception: a client was told who reads the answers,
    so an owner first has the case handed over, which the client reads and the history keeps.
    """
    found = cases.find(records(), signed_in().id, public_id) or abort(404)
    g.case = found
    return found


def known_case(public_id: str) -> Case:
    """Return one of the practitioner's own cases whose intake is known; 404 for any other, since it has no routine yet."""
    found = own_case(public_id)
    return abort(404) if found.asks_intake else found


def zone() -> str:
    """Return the time zone by which the days of this page's client are counted; on a page of no client the practice's."""
    if "zone" not in g:
        g.zone = zone_of(records(), g.case.id) if "case" in g else practice().zone if g.get("practitioner") else "UTC"
    return cast("str", g.zone)


def say_later(code: str, named: object = "") -> None:
    """Make the next page say that something was done.

    Args:
        code: The key of the sentence in the templates.
        named: The value that the sentence names.
    """
    g.said = code
    flash(f"{code}\n{named}")


def keep_here(name: str, **values: str) -> None:
    """Keep, in this browser's cookie alone, what the next page shows and the records do not hold; the next such call replaces it."""
    session[KEPT_HERE] = {"name": name, **values}


def kept_here(name: str) -> dict[str, str] | None:
    """Return what was kept under a name last, or None. It is there until something else is kept, or the sign-out."""
    kept = session.get(KEPT_HERE)
    return kept if kept and kept["name"] == name else None


def nothing_done() -> None:
    """Tell the history that this request changed nothing, though its answer redirects."""
    g.said = "looked"


def handed_to_me() -> list[HandOver]:
    """Return the clients who were handed to the practitioner and not looked at since."""
    return hand_overs.unseen_of(records(), signed_in().id)


def of_my_password() -> list[PasswordEvent]:
    """Return what happened to the practitioner's password that they have not said to know of."""
    return recovery.unseen_of(records(), signed_in().id)


def back_to_case(case: Case) -> Response:
    """Redirect to the case page, as after every change."""
    return redirect(url_for("practice.case.show", public_id=case.public_id), 303)


def send_again(case: Case) -> Response:
    """Refuse a button whose form has no valid token: nothing was changed, and the case page says so."""
    say_later("send_again")
    return back_to_case(case)

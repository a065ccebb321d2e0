"""Signing in and out: the form, the cookie of a sign-in, and the check before every page."""

import hashlib
import math
import secrets
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from flask import abort, g, make_response, redirect, render_template, request, session, url_for
from flask.sansio.blueprints import BlueprintSetupState
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import PasswordField, StringField

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.door import known_browsers, passwords
from webapp.practice.door.guessing import guards_of
from webapp.practice.forms.entries import ButtonForm, at_most, needed, trimmed
from webapp.records import practitioners
from webapp.records.practitioners import Practitioner, SignIn

IDLE = timedelta(hours=12)
LONGEST = timedelta(days=7)
SEEN_EVERY = timedelta(minutes=1)
TOKEN_BYTES = 32
SEE_OTHER, SEND_ON = 303, 307
NOT_KEPT = frozenset({"csrf_token", "email", "password", "onward", "step"})
OPEN_TO_ALL = frozenset({"practice.door.sign_in", "practice.door.welcome"})


class SignInForm(FlaskForm):
    """E-mail address and password."""

    email = StringField(validators=[needed, at_most(254)], filters=[trimmed])
    password = PasswordField(validators=[needed, at_most(1024)])


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _cookie() -> str:
    return desk.settings().cookie("practice")


def is_current(sign_in: SignIn, now: datetime) -> bool:
    """Whether a sign-in is still valid: last used less than 12 hours ago, begun less than 7 days ago."""
    seen, begun = (datetime.fromisoformat(at) for at in (sign_in.seen_at, sign_in.created_at))
    return now - seen < IDLE and now - begun < LONGEST


def _who() -> Practitioner | None:
    token = request.cookies.get(_cookie())
    if not token:
        return None
    found, now = practitioners.sign_in_of(desk.records(), _digest(token)), desk.now()
    if found is None or not is_current(found, now):
        return None
    if now - datetime.fromisoformat(found.seen_at) >= SEEN_EVERY:
        practitioners.see(desk.records(), _digest(token), now)
    return found.practitioner


def keep_tokens(state: BlueprintSetupState) -> None:
    """Make a form's token valid as long as its session, so that a form that was open over lunch can still be sent."""
    state.app.config["WTF_CSRF_TIME_LIMIT"] = None


def let_in() -> Response | None:
    """Before every page: redirect a browser that is not signed in to the sign-in page."""
    g.practitioner = _who()
    if g.practitioner or request.endpoint in OPEN_TO_ALL:
        return None
    here = request.full_path.rstrip("?")
    if request.method == "POST" and _kept():
        # The sign-in ended while a form was being written: the page keeps its entries, and sends them on afterwards.
        return make_response(_door(SignInForm(formdata=None), here, _kept()), 403)
    return redirect(url_for("practice.door.sign_in", onward=here if request.method in {"GET", "HEAD"} else None), 303)


def keep_out_of_caches(response: Response) -> Response:
    """Forbid caches to keep a page, since pages are about persons."""
    response.headers["Cache-Control"] = "no-store"
    return response


def _onward(path: str) -> str:
    """Return the address after signing in: `path` if it is a page of this site, else the caseload.

    A path with a backslash or an unprintable character is refused: a browser may read it as another site.
    """
    home = url_for("practice.caseload.show")
    return path if path.startswith(home) and "\\" not in path and path.isprintable() else home


def _checked(email: str, password: str) -> Practitioner | Fault:
    db, tries = desk.records(), desk.tries()
    found, password_hash = practitioners.with_password(db, email) or (None, None)
    browser = known_browsers.name_for(found.id) if found else ""
    guards = guards_of(tries, email, browser, request.remote_addr or "nowhere")
    wait = tries.wait(*guards.passed)
    if wait:
        return Fault("too_many_tries", "email", "", (math.ceil(wait / timedelta(minutes=1)),))
    if not passwords.is_right(password_hash, password) or found is None:
        tries.fail(*guards.counted)
        return Fault("wrong_sign_in", "email", "")
    if passwords.has_aged(str(password_hash)):
        practitioners.change_password_hash(db, found.id, passwords.hash_password(password))
    return found


def open_for(practitioner: Practitioner, onward: str, code: int = SEE_OTHER) -> Response:
    """Begin a sign-in in this browser, and redirect to a page of the site; `""` leads to the caseload."""
    return begin_sign_in(practitioner, lambda: redirect(_onward(onward), code))


def begin_sign_in(practitioner: Practitioner, respond: Callable[[], Response]) -> Response:
    """Begin a sign-in in this browser, and answer with what `respond` makes once the practitioner is signed in."""
    token, now = secrets.token_urlsafe(TOKEN_BYTES), desk.now()
    g.practitioner = practitioner
    _end_sign_in()
    practitioners.begin_sign_in(desk.records(), practitioner.id, _digest(token), now, now - LONGEST)
    # A form token from before the sign-in must not be valid after it.
    session.clear()
    response = respond()
    response.set_cookie(
        _cookie(), token, max_age=LONGEST, path="/", httponly=True, samesite="Lax", secure=desk.settings().is_secure
    )
    known_browsers.remember(response, practitioner.id)
    return response


def _end_sign_in() -> None:
    """End the sign-in of this browser, if there is one; sign-ins of other browsers stay valid."""
    practitioners.end_sign_in(desk.records(), _digest(request.cookies.get(_cookie(), "")))


def _kept() -> list[tuple[str, str]]:
    """Return the entries of another form that came with this one; never a password, nor what the door asks itself."""
    return [entry for entry in request.form.items(multi=True) if entry[0] not in NOT_KEPT]


def sign_in() -> Response | tuple[str, int] | str:
    """Show the sign-in page, or sign in."""
    form, onward = SignInForm(), request.values.get("onward", "")
    if request.method != "POST":
        return redirect(_onward(onward), 303) if g.practitioner else _door(form, onward)
    if not form.validate():
        return _door(form, onward, _kept()), 400
    outcome = _checked(form.email.data, form.password.data)
    if isinstance(outcome, Practitioner):
        # The browser sends the kept entries on; they have no valid token any more, so the page only shows them again.
        return open_for(outcome, onward, SEND_ON if _kept() else SEE_OTHER)
    form.form_errors.append(outcome)
    return _door(form, onward, _kept()), 429 if outcome.code == "too_many_tries" else 403


def _door(form: SignInForm, onward: str, kept: Sequence[tuple[str, str]] = ()) -> str:
    return render_template("door/sign_in.html", form=form, onward=onward, kept=kept)


def sign_out() -> Response:
    """Sign out: end the sign-in in the records and delete its cookie."""
    if not ButtonForm().validate():
        abort(400)
    _end_sign_in()
    session.clear()
    desk.say_later("signed_out")
    response = redirect(url_for("practice.door.sign_in"), 303)
    response.delete_cookie(_cookie(), path="/", httponly=True, samesite="Lax", secure=desk.settings().is_secure)
    return response

"""Who may come in: signing in and out, the cookie of a sign-in, and the check before every page."""

import hashlib
import math
import secrets
from datetime import datetime, timedelta

from flask import abort, g, redirect, render_template, request, session, url_for
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
OPEN_TO_ALL = frozenset({"practice.door.sign_in"})


class SignInForm(FlaskForm):
    """E-mail address and password."""

    email = StringField(validators=[needed, at_most(254)], filters=[trimmed])
    password = PasswordField(validators=[needed, at_most(1024)])


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _cookie() -> str:
    return desk.settings().cookie("practice")


def is_current(sign_in: SignIn, now: datetime) -> bool:
    """Say whether a sign-in still holds: used within 12 hours, begun within 7 days."""
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
    """Let a form's token live as long as its session: a form may lie open over lunch."""
    state.app.config["WTF_CSRF_TIME_LIMIT"] = None


def let_in() -> Response | None:
    """Send whoever is not signed in to the door, and let nothing of the page be seen."""
    g.practitioner = _who()
    if g.practitioner or request.endpoint in OPEN_TO_ALL:
        return None
    onward = request.full_path.rstrip("?") if request.method in {"GET", "HEAD"} else None
    return redirect(url_for("practice.door.sign_in", onward=onward), 303)


def keep_out_of_caches(response: Response) -> Response:
    """Have no cache keep a page about a person."""
    response.headers["Cache-Control"] = "no-store"
    return response


def _onward(path: str) -> str:
    """Give where to go after signing in: a page of this site, or the caseload."""
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


def _opened(practitioner: Practitioner, onward: str) -> Response:
    token, now = secrets.token_urlsafe(TOKEN_BYTES), desk.now()
    _end_sign_in()
    practitioners.begin_sign_in(desk.records(), practitioner.id, _digest(token), now, now - LONGEST)
    # What was signed before the door must not be good behind it.
    session.clear()
    response = redirect(_onward(onward), 303)
    response.set_cookie(
        _cookie(), token, max_age=LONGEST, path="/", httponly=True, samesite="Lax", secure=desk.settings().is_secure
    )
    known_browsers.remember(response, practitioner.id)
    return response


def _end_sign_in() -> None:
    """End this browser's sign-in, if there is one, for good; those of other browsers go on."""
    practitioners.end_sign_in(desk.records(), _digest(request.cookies.get(_cookie(), "")))


def sign_in() -> Response | tuple[str, int] | str:
    """Show the door, or try it."""
    form, onward = SignInForm(), request.values.get("onward", "")
    if request.method != "POST":
        return redirect(_onward(onward), 303) if g.practitioner else _door(form, onward)
    if not form.validate():
        return _door(form, onward), 400
    outcome = _checked(form.email.data, form.password.data)
    if isinstance(outcome, Practitioner):
        return _opened(outcome, onward)
    form.form_errors.append(outcome)
    return _door(form, onward), 429 if outcome.code == "too_many_tries" else 403


def _door(form: SignInForm, onward: str) -> str:
    return render_template("door/sign_in.html", form=form, onward=onward)


def sign_out() -> Response:
    """End this sign-in, here and for good."""
    if not ButtonForm().validate():
        abort(400)
    _end_sign_in()
    session.clear()
    desk.say_later("signed_out")
    response = redirect(url_for("practice.door.sign_in"), 303)
    response.delete_cookie(_cookie(), path="/", httponly=True, samesite="Lax", secure=desk.settings().is_secure)
    return response

"""A client's phones: invite a phone by link, QR code or short code; confirm or revoke a phone."""

from dataclasses import replace
from datetime import datetime
from urllib.parse import urljoin

import segno
from flask import abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.case.arrival import steps_of
from webapp.practice.forms.entries import ButtonForm
from webapp.records import cases, devices, invitations, practitioners
from webapp.records.cases import Case
from webapp.records.database import instant
from webapp.records.devices import Device
from webapp.words.catalogue import words_for
from webapp.words.paper_slip import paper_slip

# The white border round a QR code, in modules; a camera needs it.
QUIET_BORDER = 4
KINDS = ("link", "code")


def _join_address(case: Case) -> str:
    """Return where a phone joins; where several languages are served, the page opens in the client's."""
    locale = case.locale if len(desk.settings().locales) > 1 else None
    return urljoin(desk.settings().origin, url_for("client.join", locale=locale))


def show_invitation(public_id: str) -> Response | str:
    """Show the invitation that this browser has just made, with its slip to print and what has arrived since; it is stored nowhere."""
    case = desk.own_case(public_id)
    made = desk.kept_here(_of(case))
    if made is None:
        return desk.back_to_case(case)
    is_code, expires_at = made["kind"] == "code", datetime.fromisoformat(made["expires_at"])
    slip = paper_slip(words_for(case.locale), desk.signed_in().name, expires_at, desk.zone(), is_code=is_code)
    return render_template(
        "case/invitation.html",
        shown=case,
        expires_at=expires_at,
        slip=slip,
        reach=practitioners.reach_for(desk.records(), case.id)[1],
        since=made["since"],
        steps=steps_of(case, made["since"]),
        **(_of_code(made["secret"]) if is_code else _of_link(case, made["secret"])),
    )


def _of(case: Case) -> str:
    return f"invitation {case.public_id}"


def _of_link(case: Case, token: str) -> dict[str, str]:
    link = f"{_join_address(case)}#{token}"
    qr = segno.make(link, error="m").svg_data_uri(scale=6, border=QUIET_BORDER, dark="#000", light="#fff")
    return {"link": link, "qr": qr}


def _of_code(code: str) -> dict[str, str]:
    return {"code": code, "join_address": urljoin(desk.settings().origin, url_for("client.join"))}


def _in_chosen_language(case: Case) -> Case:
    """Keep the language that the form names, if it is a served one; the phone opens in it."""
    chosen = request.form.get("locale", "")
    if chosen == case.locale or chosen not in desk.settings().locales:
        return case
    cases.choose_locale(desk.records(), case.id, chosen)
    return replace(case, locale=chosen)


def invite(public_id: str) -> Response:
    """Make a link or a short code; the page that follows shows it, in this browser alone."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    kind, db, now = request.form.get("kind", ""), desk.records(), desk.now()
    if kind not in KINDS:
        abort(400)
    case = _in_chosen_language(case)
    if kind == "code":
        code = invitations.make_code(db, case.id, now)
        secret, expires_at = code.code, code.expires_at
    else:
        link = invitations.make_link(db, case.id, now)
        secret, expires_at = link.token, link.expires_at
    desk.keep_here(_of(case), kind=kind, secret=secret, expires_at=instant(expires_at), since=instant(now))
    return redirect(url_for("practice.case.show_invitation", public_id=case.public_id), 303)


def withdraw_invitation(public_id: str, invitation: int) -> Response:
    """Withdraw an invitation that nobody has used; change nothing if it is used or over."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    invitations.withdraw(desk.records(), case.id, invitation)
    desk.say_later("withdrawn")
    return desk.back_to_case(case)


def _phone_of(case: Case, device: str) -> Device | None:
    """Return a joined phone of the case; None for one that is revoked, which the next page says; 404 for any other."""
    joined = {each.id: each for each in devices.of_client(desk.records(), case.id)}
    if device in joined:
        return joined[device]
    name = devices.name_of_revoked(desk.records(), case.id, device)
    if name is None:
        abort(404)
    desk.say_later("revoked", name)
    return None


def confirm_phone(public_id: str, device: str) -> Response:
    """Let a phone sync again that has waited for this since a restore."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    phone = _phone_of(case, device)
    if phone:
        devices.confirm(desk.records(), case.id, phone.id)
        desk.say_later("confirmed", phone.name)
    return desk.back_to_case(case)


def revoke_phone(public_id: str, device: str) -> Response:
    """Revoke one phone: the server refuses it from now on."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    phone = _phone_of(case, device)
    if phone:
        devices.revoke(desk.records(), case.id, phone.id, desk.now())
        desk.say_later("revoked", phone.name)
    return desk.back_to_case(case)

"""A client's phones: invite a phone by link, QR code or short code; confirm or revoke a phone."""

from dataclasses import replace
from datetime import datetime
from urllib.parse import urljoin

import segno
from flask import abort, render_template, request, url_for
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


def _join_address(case: Case) -> str:
    """Return where a phone joins; where several languages are served, the page opens in the client's."""
    locale = case.locale if len(desk.settings().locales) > 1 else None
    return urljoin(desk.settings().origin, url_for("client.join", locale=locale))


def _link_page(case: Case) -> str:
    made = invitations.make_link(desk.records(), case.id, desk.now())
    link = f"{_join_address(case)}#{made.token}"
    qr = segno.make(link, error="m").svg_data_uri(scale=6, border=QUIET_BORDER, dark="#000", light="#fff")
    return _page(case, made.expires_at, is_code=False, link=link, qr=qr)


def _code_page(case: Case) -> str:
    made = invitations.make_code(desk.records(), case.id, desk.now())
    address = urljoin(desk.settings().origin, url_for("client.join"))
    return _page(case, made.expires_at, is_code=True, code=made.code, join_address=address)


def _page(case: Case, expires_at: datetime, *, is_code: bool, **shown: str) -> str:
    """Render the page that shows an invitation once, with its slip to print and what has arrived since."""
    slip = paper_slip(words_for(case.locale), desk.signed_in().name, expires_at, desk.zone(), is_code=is_code)
    reach = practitioners.reach_for(desk.records(), case.id)[1]
    since = instant(desk.now())
    return render_template(
        "case/invitation.html",
        shown=case,
        expires_at=expires_at,
        slip=slip,
        reach=reach,
        since=since,
        steps=steps_of(case, since),
        **shown,
    )


def _in_chosen_language(case: Case) -> Case:
    """Keep the language that the form names, if it is a served one; the phone opens in it."""
    chosen = request.form.get("locale", "")
    if chosen == case.locale or chosen not in desk.settings().locales:
        return case
    cases.choose_locale(desk.records(), case.id, chosen)
    return replace(case, locale=chosen)


def invite(public_id: str) -> Response | str:
    """Make a link or a short code, and show it; it is never shown again."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    pages = {"link": _link_page, "code": _code_page}
    page = pages.get(request.form.get("kind", "")) or abort(400)
    return page(_in_chosen_language(case))


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

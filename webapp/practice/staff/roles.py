"""Who owns the practice: an owner makes a member an owner, or an owner a member; the last owner stays one."""

from flask import abort, redirect, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.records import owners, practices
from webapp.records.owners import LastOwnerError


def make_owner(colleague: int) -> Response:
    """Make a member an owner."""
    return _set(colleague, practices.OWNER)


def make_member(colleague: int) -> Response:
    """Make an owner a member; an owner may do so to themselves while there is another one."""
    return _set(colleague, practices.MEMBER)


def _set(colleague: int, role: str) -> Response:
    db, owner = desk.records(), desk.owner()
    known = practices.colleague(db, owner.practice, colleague) or abort(404)
    if not ButtonForm().validate():
        desk.say_later("send_again")
        return _back(colleague)
    try:
        is_changed = owners.set_role(db, owner.practice, colleague, role)
    except LastOwnerError:
        desk.say_later("last_owner", known.name)
        return _back(colleague)
    desk.say_later(f"made_{role}" if is_changed else "role_stays", known.name)
    # Who is no owner any more does not see a colleague's page.
    is_own = colleague == owner.id and role == practices.MEMBER
    return redirect(url_for("practice.staff.show"), 303) if is_own else _back(colleague)


def _back(colleague: int) -> Response:
    return redirect(url_for("practice.staff.show_colleague", colleague=colleague), 303)

"""The pages of movements: all of them, the shipped and the own; one of the own, with its versions and who uses it; retiring it."""

from flask import abort, redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.library.faults import NotAcceptedError
from webapp.library.movement import KINDS
from webapp.library.own_movement import read_own_movement
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.practice.movements.shown import shown_movement
from webapp.records import movements
from webapp.records.movements import OwnMovement


def _own(movement_id: str) -> OwnMovement:
    """Return one of the practice's own movements; 404 for another practice's or an unknown id."""
    return movements.find(desk.records(), desk.signed_in().practice, movement_id) or abort(404)


def every_movement() -> str:
    """List the practice's own movements, then those that come with the program."""
    shelf, say = the_shelf(), desk.words().say
    own = movements.of_practice(desk.records(), desk.signed_in().practice)
    return render_template(
        "movements/every.html",
        offered=[each for each in own if not each.retired_at],
        retired=[each for each in own if each.retired_at],
        shipped={kind: [shelf.movements[id_].said(say) for id_ in shelf.of_kind(kind)] for kind in KINDS},
        names={id_: say(movement.name) for id_, movement in shelf.movements.items()},
    )


def show(movement_id: str) -> str:
    """Show one own movement."""
    newest = _own(movement_id)
    db, me = desk.records(), desk.signed_in()
    try:
        shown = shown_movement(read_own_movement(newest.entries), desk.words())
    except NotAcceptedError:
        # The limits have changed since it was saved; the page says so, and the form names each fault.
        shown = None
    return render_template(
        "movements/page.html",
        newest=newest,
        shown=shown,
        versions=movements.versions_of(db, me.practice, newest.public_id),
        users=movements.used_by(db, me.id, newest.public_id),
        form=ButtonForm(),
    )


def retire(movement_id: str) -> Response:
    """Offer a movement no longer; routines that use it keep it."""
    return _set_retired(_own(movement_id), is_retired=True)


def offer(movement_id: str) -> Response:
    """Offer a retired movement again."""
    return _set_retired(_own(movement_id), is_retired=False)


def _set_retired(own: OwnMovement, *, is_retired: bool) -> Response:
    if ButtonForm().validate():
        at = desk.now() if is_retired else None
        movements.set_retired(desk.records(), desk.signed_in().practice, own.public_id, at)
        desk.say_later("movement_retired" if is_retired else "movement_offered", own.content["name"])
    else:
        desk.say_later("send_again")
    return redirect(url_for("practice.movements.show", movement_id=own.public_id), 303)

"""Making a movement of the practice's own, and changing one: choose what it is like, write, look at it, save."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from flask import abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.own_movements import ARCS
from webapp.dosing.settings import Tempo, WarmUp
from webapp.library.faults import NotAcceptedError
from webapp.library.movement import KINDS, Movement
from webapp.library.own_movement import read_own_movement
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.movements import looking
from webapp.practice.movements.form import (
    MovementForm,
    bounds_of,
    content_of,
    entries_of,
    movement_form,
    put_faults,
)
from webapp.practice.movements.shown import ShownMovement, shown_movement
from webapp.records import cases, movements
from webapp.records.movements import OwnMovement
from webapp.sync.log import practice_events
from webapp.words.catalogue import names_of
from webapp.words.own_movements import STOP_ABOVE

FIRST_VERSION = "1"
NOBODY = "0" * 20
"""The id of a movement that is looked at before it is saved."""


@dataclass
class _Draft:
    """A form that is being written.

    Attributes:
        form: The form.
        shipped: The movement that the own one is like.
        newest: The own movement that is changed, or None for a new one.
        said_again: What the page says above the form, or None.
        shown: What the client would read, once the form has no fault.
        digest: A short hash of what was looked at.
    """

    form: MovementForm
    shipped: Movement
    newest: OwnMovement | None = None
    said_again: Fault | None = None
    shown: ShownMovement | None = None
    digest: str = field(default="")


def make() -> Response | tuple[str, int] | str:
    """Offer what the new movement may be like; with that chosen, show the form, or make the movement."""
    like = request.args.get("like", "")
    if like not in ARCS:
        kinds = render_template("movements/kinds.html", offered=_offered())
        return kinds if request.method == "GET" else (kinds, 400)
    shipped = the_shelf().movements[like]
    first = {**_first(shipped), "key": practice_events.new_id(desk.now())}
    return _answered(_Draft(movement_form(shipped, desk.bounds(), first, looking.drafted()), shipped))


def change(movement_id: str) -> Response | tuple[str, int] | str:
    """Show the form with the newest version, or save the next one."""
    newest = movements.find(desk.records(), desk.signed_in().practice, movement_id) or abort(404)
    shipped = the_shelf().movements[newest.content["like"]]
    first = {**entries_of(newest.content), "key": NOBODY, "based_on": str(newest.version)}
    return _answered(_Draft(movement_form(shipped, desk.bounds(), first, looking.drafted()), shipped, newest))


def _offered() -> dict[str, list[Movement]]:
    """List the shipped movements that an own one may be like, by kind, in the language of the desk."""
    shelf, say = the_shelf(), desk.words().say
    return {kind: [shelf.movements[id_].said(say) for id_ in shelf.of_kind(kind)] for kind in KINDS}


def _first(shipped: Movement) -> dict[str, Any]:
    """Return the first entries of a new movement: the words, the full arc and the usual times of the shipped one."""
    said = shipped.said(desk.words().say)
    arc, tempo = bounds_of(shipped, desk.bounds())
    usual = vars(Tempo()) | vars(WarmUp("")) | {"longest_hold_seconds": shipped.longest_hold_seconds}
    times = {name: min(max(usual[name] or bound.high, bound.low), bound.high) for name, bound in tempo.items()}
    # When to stop is said beside the words in any case.
    how = [line.replace(desk.words().say(STOP_ABOVE), "").strip() for line in said.how]
    return {
        "how": "\n".join(filter(None, how)),
        "mistakes": "\n".join(said.mistakes),
        "purpose": said.purpose.text,
        "cue_start": said.cues.start,
        "cue_up": said.cues.up,
        "cue_down": said.cues.down,
        **{name: bound.high for name, bound in arc.items()},
        **times,
    }


def _answered(draft: _Draft) -> Response | tuple[str, int] | str:
    """Show a form that was opened or has faults; keep one for a look; save one that was looked at."""
    if not draft.form.is_submitted():
        if looking.is_look():
            _checked(draft)
        return _page(draft)
    content = _checked(draft)
    if content is None:
        return _page(draft), 400
    return _decided(draft, content)


def _decided(draft: _Draft, content: Mapping[str, Any]) -> Response | tuple[str, int]:
    if request.form.get("step") != "save":
        return looking.keep()
    if request.form.get("looked_at") != draft.digest:
        draft.said_again = Fault("looked_before", "name", "")
        return _page(draft), 409
    try:
        saved = _saved(draft, content)
    except movements.ChangedMeanwhileError:
        return _overtaken(draft)
    desk.say_later("movement_saved", content["name"])
    return redirect(url_for("practice.movements.show", movement_id=saved), 303)


def _checked(draft: _Draft) -> dict[str, Any] | None:
    """Return what the form says, and put what the client would read into the draft; None where it has faults."""
    if not draft.form.validate():
        return None
    content = content_of(draft.form, draft.shipped)
    try:
        movement = read_own_movement({"id": NOBODY, "version": 1, **content})
    except NotAcceptedError as error:
        put_faults(draft.form, error.faults)
        return None
    draft.shown, draft.digest = shown_movement(movement, desk.words()), _digest(content)
    return content


def _digest(content: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()[:16]


def _saved(draft: _Draft, content: Mapping[str, Any]) -> str:
    db, me, key = desk.records(), desk.signed_in(), str(draft.form.key.data)
    # Whoever goes back after the first save and writes on changes the movement that was made then.
    draft.newest = draft.newest or movements.of_form(db, me.practice, key)
    if draft.newest is None:
        return movements.make(db, me.practice, content, me.id, key, desk.now())
    based_on = draft.form.based_on.data or FIRST_VERSION
    number = int(based_on) if based_on.isascii() and based_on.isdigit() and len(based_on) < len(NOBODY) else 0
    return movements.change(db, me.practice, draft.newest.public_id, content, me.id, number, desk.now()).public_id


def _overtaken(draft: _Draft) -> tuple[str, int]:
    """Show the form with what was typed, and say who saved another version meanwhile; the next press goes on top of it."""
    assert draft.newest is not None, "only a change can be overtaken"
    draft.said_again = Fault("movement_moved", "name", draft.newest.version, (draft.newest.by,))
    draft.form.based_on.data = str(draft.newest.version)
    return _page(draft), 409


def _page(draft: _Draft) -> str:
    said = draft.shipped.said(desk.words().say)
    arc, tempo = bounds_of(draft.shipped, desk.bounds())
    return render_template(
        "movements/form.html",
        draft=draft,
        form=draft.form,
        shipped=said,
        arc=arc,
        tempo=tempo,
        read_in=_read_in(),
    )


def _read_in() -> list[str]:
    """List the languages in which the practitioner's clients read the app, by their own names."""
    of_clients = {case.locale for case in cases.of_practitioner(desk.records(), desk.signed_in().id)}
    return [name for _, name in names_of(sorted(of_clients))]

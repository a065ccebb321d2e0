"""One routine for several clients: a version of one client, pushed to others of the caseload who follow the same routine.

Each client keeps weights, usual pain and rungs of their own. Whose own tunings would be lost is listed and left out unless
ticked; whoever it would raise by more than one step may, or whom it does not fit, gets it on their own page only.
"""

import hashlib
from collections.abc import Mapping
from functools import partial
from typing import Any, NamedTuple

from flask import abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import TextAreaField

from webapp.library.faults import NotAcceptedError
from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NOTE, at_most, trimmed
from webapp.practice.routine.differences import Difference, differences
from webapp.practice.routine.effects import PushEffects, effects_of_push
from webapp.practice.routine.form import completed
from webapp.practice.routine.own import named
from webapp.practice.routine.preview import shows
from webapp.practice.standing import line_for
from webapp.records import cases, routines
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.records.routines import RoutineVersion, set_nothing_by_hand
from webapp.sync.bundle.bundle import prescribed
from webapp.sync.case.archive import archived_with
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD


class SeveralForm(FlaskForm):
    """A note that goes to all; who is chosen stands beside the form's fields."""

    note = TextAreaField(validators=[at_most(LONGEST_NOTE)], filters=[trimmed])


class Other(NamedTuple):
    """Another client on the same routine.

    Attributes:
        case: The client.
        newest: The version that they follow.
        routine: What they would get.
        settings: Their own settings, for the new version.
        changes: What would change for them.
        own: What they have of their own, and would lose.
        push: The effects on their arms today; None where the routine does not fit them.
    """

    case: Case
    newest: RoutineVersion
    routine: Mapping[str, Any]
    settings: Mapping[str, Any]
    changes: list[Difference]
    own: list[Difference]
    push: PushEffects | None

    @property
    def is_possible(self) -> bool:
        """Whether the routine fits, and raises no arm by more than may go without a tick."""
        return self.push is not None and not any(effect.is_to_tick for effect in self.push.effects)

    @property
    def seal(self) -> str:
        """A short hash of what the page showed of this client; nothing is pushed if that has changed since."""
        shown = (self.newest.version, self.push.seal if self.push else "")
        return hashlib.sha256(repr(shown).encode()).hexdigest()[:16]


class Others(NamedTuple):
    """The other clients on the same routine whom it would change, and those of whom nothing is known."""

    known: list[Other]
    unreadable: list[Case]


def _others(source: Case, version: RoutineVersion) -> Others:
    """List the other clients whose newest routine has the title of this version, or of the version before it."""
    db, me = desk.records(), desk.signed_in().id
    before = next((each for each in routines.of_client(db, source.id) if each.version < version.version), None)
    titles = {each.routine["title"] for each in (version, before) if each}
    found, away = Others([], []), archived_with(db, me)
    for case in cases.of_practitioner(db, me):
        newest = routines.latest(db, case.id)
        if not newest or case.id in {source.id, *away} or newest.routine["title"] not in titles:
            continue
        try:
            other = _other(case, newest, version, before)
        except FAULTS_OF_A_FOLD:
            found.unreadable.append(case)
        else:
            found.known.extend([other] if other.changes else [])
    return found


def _other(case: Case, newest: RoutineVersion, version: RoutineVersion, before: RoutineVersion | None) -> Other:
    new = completed(version.routine)
    routine = {**new, "area": newest.routine["area"], "tuning": {**new["tuning"], "accepted_jumps_kg": []}}
    settings = set_nothing_by_hand(newest.settings)
    now = (completed(newest.routine), settings)
    shared = (completed((before or version).routine), settings)
    return Other(
        case,
        newest,
        routine,
        settings,
        differences(now, (routine, settings)),
        [each for each in differences(shared, now) if each.field != "title"],
        _effects(case, routine, settings),
    )


def _effects(case: Case, routine: Mapping[str, Any], settings: Mapping[str, Any]) -> PushEffects | None:
    if not desk.is_within_bounds(routine["tuning"]):
        return None
    try:
        prescription = prescribed(routine, settings, routines.next_version(desk.records(), case.id), "")
    except NotAcceptedError:
        return None
    return effects_of_push(line_for(case), prescription.plan)


def push_to_several(public_id: str, version: int) -> Response | tuple[str, int] | str:
    """Show the other clients on the same routine, or push the version to those that are ticked."""
    source = desk.known_case(public_id)
    found = routines.find(desk.records(), source.id, version) or abort(404)
    form, others = SeveralForm(), _others(source, found)
    if not form.is_submitted():
        return _page(source, found, others, form, {other.case.public_id for other in others.known if not other.own})
    ticked = set(request.form.getlist("to"))
    chosen = [other for other in others.known if other.case.public_id in ticked and other.is_possible]
    moved = [other for other in chosen if request.form.get(f"seal-{other.case.public_id}") != other.seal]
    if not form.validate() or moved or not chosen:
        return _page(source, found, others, form, ticked, moved, is_none=not chosen), 409 if moved else 400
    try:
        _push_all(chosen, str(form.note.data))
    except routines.OvertakenError:
        return _page(source, found, _others(source, found), form, ticked, chosen), 409
    desk.say_later("pushed_to", len(chosen))
    return redirect(url_for("practice.case.show", public_id=source.public_id), 303)


def _push_all(chosen: list[Other], note: str) -> None:
    """Push to every client that was chosen, or to none where one of them has another version by now."""
    db = desk.records()
    with write(db):
        for other in chosen:
            routines.check_follows(db, other.case.id, other.newest)
            routines.put(db, other.case.id, other.routine, other.settings, note, desk.signed_in().id, desk.now())


def _page(
    source: Case,
    version: RoutineVersion,
    others: Others,
    form: SeveralForm,
    ticked: set[str],
    moved: list[Other] | None = None,
    *,
    is_none: bool = False,
) -> str:
    names = named(version.routine, *(other.newest.routine for other in others.known))
    return render_template(
        "routine/several.html",
        shown=source,
        version=version,
        others=others.known,
        unreadable=others.unreadable,
        form=form,
        ticked=ticked,
        moved=moved or [],
        is_none=is_none,
        names=names,
        shows=partial(shows, names),
    )

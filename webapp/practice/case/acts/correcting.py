"""The intake corrected field by field: its form, its page, and what the case page shows of earlier corrections."""

from typing import Any

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField, TextAreaField

from webapp.dosing.faults import Fault
from webapp.events.kinds import INTAKE_PRIVATE, INTAKE_SAID
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.case.intake import PersonForm
from webapp.practice.forms.entries import LONGEST_NAME, at_most, needed, trimmed
from webapp.practice.show import weights_said
from webapp.practice.standing import Line
from webapp.records import routines
from webapp.records.cases import Case
from webapp.sync.case.correcting import (
    OF_THE_DOSE,
    ArmInUseError,
    Correction,
    IntakeMovedError,
    ahead_of,
    correct,
    corrections_of,
    fields_of,
    seal,
)

LONGEST_REASON = 280


class CorrectionForm(PersonForm):
    """The intake as it is kept now, and why it is corrected; `intake_seen` is the seal of what the page showed."""

    correction_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    intake_seen = StringField()

    def wanted(self) -> Correction:
        """Return what the valid form asks for."""
        fields = {name: self[name].data for name in (*INTAKE_SAID, *INTAKE_PRIVATE)}
        fields["arms"] = [arm for arm, *_ in self.arms.iter_choices() if arm in self.arms.data]
        return Correction(fields, str(self.correction_reason.data), desk.signed_in().name[:LONGEST_NAME])


def correct_intake(public_id: str) -> Response | tuple[str, int] | str:
    """Show the intake as a form, or store its correction and lead on to the routine desk where the dose is to follow."""
    shown = desk.own_case(public_id)
    if shown.asks_intake:
        return redirect(url_for("practice.case.confirm", public_id=public_id), 303)
    form = CorrectionForm(data=fields_of(shown))
    form.area.offered = the_shelf().areas
    if not form.is_submitted():
        return _page(shown, form)
    if not form.validate():
        return _page(shown, form), 400
    wanted, me = form.wanted(), desk.signed_in().id
    try:
        changed = correct(desk.records(), me, public_id, wanted, form.intake_seen.data or "", now=desk.now())
    except IntakeMovedError:
        form.correction_reason.errors = [Fault("intake_moved", "correction_reason", "")]
        return _page(desk.own_case(public_id), form, has_moved=True), 409
    except ArmInUseError as error:
        form.arms.errors = [Fault("arm_in_use", "arms", error.arm)]
        return _page(shown, form), 400
    return _done(public_id, shown, form, changed)


def _done(public_id: str, before: Case, form: CorrectionForm, changed: list[str]) -> Response:
    now = desk.own_case(public_id)
    ahead = ahead_of(now, routines.latest(desk.records(), now.id))
    # The seal of a form that is sent twice is older than the intake, which is so already.
    is_again = not changed and form.intake_seen.data != seal(before)
    if not changed and not is_again:
        desk.say_later("intake_same")
        return desk.back_to_case(now)
    is_of_the_dose = bool(ahead) and (is_again or any(field in OF_THE_DOSE for field in changed))
    desk.say_later("intake_corrected_dose" if is_of_the_dose else "intake_corrected")
    if is_of_the_dose:
        return redirect(url_for("practice.routine.edit", public_id=public_id), 303)
    return desk.back_to_case(now)


def _page(shown: Case, form: CorrectionForm, *, has_moved: bool = False) -> str:
    version = routines.latest(desk.records(), shown.id)
    return render_template(
        "case/correct.html",
        shown=shown,
        form=form,
        kept=fields_of(shown),
        # A form with another fault keeps the seal of what it was filled with: only a reader of the newer intake gets the newer seal.
        seal=seal(shown) if has_moved or not form.is_submitted() else form.intake_seen.data,
        has_moved=has_moved,
        has_version=version is not None,
        settings=version.settings if version else shown.intake,
        offered_areas=the_shelf().areas,
        weights_said=weights_said((version.settings if version else shown.intake)["weights"]),
    )


def about_corrections(line: Line) -> dict[str, Any]:
    """Return what the case page shows: the corrections, and what of the intake the version in force does not have yet."""
    known = [] if line.case.asks_intake else ahead_of(line.case, line.version)
    return {"corrections": corrections_of(desk.records(), line.case.id), "intake_ahead": known}

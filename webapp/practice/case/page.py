"""The case page: each arm today, the last days, the routine, the phones, the hold."""

from collections.abc import Mapping, Sequence
from functools import partial
from types import MappingProxyType, SimpleNamespace
from typing import Any

from flask import render_template, request

from webapp.practice import desk
from webapp.practice.case import holds, offers
from webapp.practice.case.activities import ActivitiesForm, about_activities
from webapp.practice.case.acts.shown import about_acts
from webapp.practice.case.days import days_told, last_days, session_rows
from webapp.practice.case.finishing import about_finishing
from webapp.practice.case.habits import habit_of
from webapp.practice.case.holds import ReleaseForm
from webapp.practice.case.letters import AnswerForm, about_letters
from webapp.practice.case.offers import OfferForm
from webapp.practice.case.plotted import about_plots
from webapp.practice.case.screening import ClearForm
from webapp.practice.case.signs import about_signs
from webapp.practice.forms.entries import ButtonForm
from webapp.practice.show import movement_names, weights_said
from webapp.practice.standing import Line, line_for
from webapp.records import devices, invitations, routines, withdrawn
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.case.notes import notes_read
from webapp.sync.log.receipts import first_sessions
from webapp.words.amounts import load_text
from webapp.words.closed_days import classed_text
from webapp.words.consent import CONSENT_MARK
from webapp.words.findings import (
    consider_text,
    evidence_text,
    finding_text,
    since_text,
)
from webapp.words.offers import button_text, legend, lettered_days, offer_text, result_text
from webapp.words.paper import sentences_of_day

DAYS_SHOWN = 14
MOST_DAYS_SHOWN = 3660


def _said(line: Line) -> SimpleNamespace:
    """Return the functions that write findings and offers as sentences in the language of the site."""
    words = desk.words()
    weights = line.version.settings["weights"] if line.version else ()
    return SimpleNamespace(
        finding=partial(finding_text, words, weights=weights),
        consider=partial(consider_text, words),
        since=partial(since_text, words),
        evidence=partial(evidence_text, words),
        offer=partial(offer_text, words),
        result=partial(result_text, words),
        button=partial(button_text, words),
        days=partial(lettered_days, words),
        legend=legend,
    )


def _written(shown: Case, versions: Sequence[RoutineVersion]) -> dict[str, Any]:
    """Return what writes a closed day, a load, a movement and the weights at home, in the language of the site."""
    return {
        "classed": partial(classed_text, desk.words()),
        "load": partial(load_text, desk.words()),
        "names": movement_names(versions[0].routine if versions else None),
        "weights_said": weights_said(shown.intake["weights"]),
    }


def _lost_version(case: Case, versions: Sequence[RoutineVersion]) -> int:
    """Return the newest version that a phone received but that is missing here, or 0.

    After a restore from a copy, a phone may have a version newer than every version in the records.
    """
    newest = versions[0].version if versions else 0
    return max((each for each in routines.received_versions(desk.records(), case.id) if each > newest), default=0)


def _days_listed(line: Line) -> dict[str, Any]:
    """Return the last days, sessions and loads, the number of all days if there are more, and whether more were asked for."""
    most = min(max(1, request.args.get("days", DAYS_SHOWN, type=int)), MOST_DAYS_SHOWN)
    closed = max((len(stand.account.days) for stand in line.standings), default=0)
    db, client = desk.records(), line.case.id
    return {
        "rows": last_days(line, most),
        "earlier": closed if closed > most else 0,
        "is_long_list": "days" in request.args,
        "sessions": session_rows(db, client, routines.of_client(db, client), line.today, most),
        **days_told(db, client, line.today, most),
    }


def _about_versions(line: Line) -> dict[str, Any]:
    """Return the routine versions, what is known of them after their push, and the plots, in which they are marked."""
    db, client = desk.records(), line.case.id
    versions = routines.of_client(db, client)
    return {
        "versions": versions,
        "lost_version": _lost_version(line.case, versions),
        "notes_read": notes_read(db, client),
        "first_sessions": first_sessions(db, client),
        "withdrawn": withdrawn.numbers_of(db, client),
        "plans": {stand.arm: stand.account.plan for stand in line.standings},
        **about_plots(line, versions),
    }


def _about_phones(line: Line) -> dict[str, Any]:
    """Return the phones, the open invitations, and the words of the agreement that is asked for now."""
    db, client = desk.records(), line.case.id
    return {
        "devices": devices.of_client(db, client),
        "invited": invitations.open_of(db, client, desk.now()),
        "consent_mark": CONSENT_MARK,
    }


def show(public_id: str) -> str:
    """Show the page of one case."""
    return page_of(desk.own_case(public_id))


def page_of(
    shown: Case,
    releases: Mapping[str, ReleaseForm] | None = None,
    taken_up: Mapping[str, OfferForm] | None = None,
    clearing: ClearForm | None = None,
    answered: AnswerForm | None = None,
    named: ActivitiesForm | None = None,
    acts: Mapping[str, Any] = MappingProxyType({}),
) -> str:
    """Render the case page.

    Args:
        shown: The case.
        releases: By arm, release forms that were sent with a fault; the page shows them as they were sent.
        taken_up: By arm, offer forms that were sent with a fault.
        clearing: The form about the screening, if it was sent with a fault.
        answered: The form of a letter that was sent with a fault.
        named: The form of the activities that was sent with a fault.
        acts: By name, forms of the acts that were sent with a fault; the form that sets the course is one.
    """
    line = line_for(shown)
    parts = _about_versions(line) | _days_listed(line) | _about_phones(line) | about_signs(shown)
    parts |= _written(shown, parts["versions"])
    parts |= offers.about_offers(line, taken_up or {}) | holds.about_holds(shown, line, releases or {})
    parts |= about_letters(shown, answered) | about_activities(shown, named)
    parts |= about_finishing(line, acts.get("course")) | about_acts(line, acts)
    return render_template(
        "case/page.html",
        line=line,
        habit=habit_of(desk.records(), shown.id, line.today),
        say=desk.words().say,
        said=_said(line),
        clearing=clearing or ClearForm(prefix="start"),
        form=ButtonForm(),
        **parts,
    )


def account(public_id: str) -> str:
    """Show the account of every closed day of every arm, the newest first."""
    shown = desk.own_case(public_id)
    line = line_for(shown)
    arms = [
        (
            stand.arm,
            [(day.on, sentences_of_day(desk.words(), day, stand.account.plan)) for day in stand.account.days[::-1]],
        )
        for stand in line.standings
    ]
    return render_template(
        "case/account.html",
        line=line,
        arms=arms,
        released=holds.releases_by_arm(line),
        stand_said=holds.stand_said,
    )

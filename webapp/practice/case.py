"""The case page: where one client stands, their last days, the routine, the phones, the hold."""

import json
from collections.abc import Mapping
from functools import partial
from types import SimpleNamespace
from typing import Any

from flask import render_template, request

from webapp.dosing.ladder import Rung
from webapp.dosing.review import Finding
from webapp.events import kinds
from webapp.library.shelf import the_shelf
from webapp.practice import blueprint, desk
from webapp.practice.caseload import NO_CONTACT
from webapp.practice.days import session_rows
from webapp.practice.forms import ButtonForm, ReleaseForm
from webapp.practice.standing import Line, Standing, last_days, line_of
from webapp.records import cases, devices, events, invitations, routines
from webapp.records.cases import Case
from webapp.sync import hold
from webapp.sync.review import findings_of
from webapp.words import Words
from webapp.words.accounts import classed_text
from webapp.words.amounts import KG_OF_UNIT, load_text
from webapp.words.findings import UNNAMED_SIGN, consider_text, evidence_text, finding_text, since_text
from webapp.words.paper import account_of_day

DAYS_SHOWN = 14
SIGNS_SHOWN = 5


def line_for(case: Case) -> Line:
    """Put together where one client stands now."""
    contacts = cases.contacts(desk.records(), desk.signed_in().id)
    return line_of(desk.records(), case, contacts.get(case.id, NO_CONTACT), desk.now())


def movement_names() -> dict[str, str]:
    """Give the name of every movement, by id."""
    return {id_: desk.words().say(movement.name) for id_, movement in the_shelf().movements.items()}


def _sign_texts() -> dict[str, str]:
    """Give the sentence of every warning sign, by id, and of one that was not named."""
    texts = {sign.id: sign.text for sign in the_shelf().warnings} | {kinds.UNNAMED_SIGN: UNNAMED_SIGN}
    return {id_: desk.words().say(text) for id_, text in texts.items()}


def _signs(case: Case) -> list[tuple[str, str]]:
    """List the last warning signs raised, as day and text."""
    texts = _sign_texts()
    raised = events.latest_of(desk.records(), case.id, ("warning_raised",), SIGNS_SHOWN)
    signs = [(event.on_day, json.loads(event.raw)["body"]["sign"]) for event in raised]
    return [(on_day, texts.get(sign, sign)) for on_day, sign in signs]


def _findings(line: Line) -> list[tuple[str, Finding]]:
    """List what the review noticed, arm by arm, in the order of its table."""
    accounts = {stand.arm: stand.account for stand in line.standings}
    found = findings_of(accounts, line.today)
    return [(arm, finding) for arm, findings in found.items() for finding in findings]


def _told(words: Words) -> SimpleNamespace:
    """Give the sentences of a finding, in the desk's language."""
    tellers = {"finding": finding_text, "consider": consider_text, "since": since_text, "evidence": evidence_text}
    return SimpleNamespace(**{name: partial(tell, words) for name, tell in tellers.items()})


def weights_said(weights: list[Mapping[str, Any]]) -> str:
    """Tell weights as entered, the bare hand left out."""
    words, loads = desk.words(), [each for each in weights if each["value"]]
    told = [load_text(words, each["value"] * KG_OF_UNIT[each["unit"]], [each]) for each in loads]
    return ", ".join(told) or load_text(words, 0.0)


def rungs_to_release_to(stand: Standing) -> list[Rung]:
    """List the rungs that a hold may be released to, the highest first: none above the one it was met on."""
    return list(reversed(stand.account.plan.ladder.rungs[: stand.state.rung]))


@blueprint.get("/cases/<public_id>")
def case(public_id: str) -> str:
    """Show one case."""
    return page(desk.own_case(public_id))


def page(shown: Case, releases: Mapping[str, ReleaseForm] | None = None) -> str:
    """Write the case page, with the release forms as they were sent where one had a fault."""
    line, db = line_for(shown), desk.records()
    most = max(1, request.args.get("days", DAYS_SHOWN, type=int))
    closed = max((len(stand.account.days) for stand in line.standings), default=0)
    versions = routines.of_client(db, shown.id)
    forms = {stand.arm: ReleaseForm(prefix=stand.arm) for stand in line.standings} | dict(releases or {})
    return render_template(
        "pages/practice_case.html",
        line=line,
        rows=last_days(line, most),
        earlier=closed if closed > most else 0,
        sessions=session_rows(db, shown.id, versions, line.today, most),
        versions=versions,
        devices=devices.of_client(db, shown.id),
        invited=invitations.open_of(db, shown.id, desk.now()),
        signs=_signs(shown),
        sign_texts=_sign_texts(),
        findings=_findings(line),
        told=_told(desk.words()),
        classed=partial(classed_text, desk.words()),
        plans={stand.arm: stand.account.plan for stand in line.standings},
        releases=forms,
        rungs_to_release_to=rungs_to_release_to,
        sharp_of=partial(hold.sharp_of, db, shown.id),
        seal=hold.seal,
        load=partial(load_text, desk.words()),
        names=movement_names(),
        weights_said=weights_said(shown.intake["weights"]),
        form=ButtonForm(),
    )


@blueprint.get("/cases/<public_id>/account")
def account(public_id: str) -> str:
    """Account for every closed day of every arm, the newest first."""
    shown = desk.own_case(public_id)
    line = line_for(shown)
    arms = [
        (
            stand.arm,
            [(day.on, account_of_day(desk.words(), day, stand.account.plan)) for day in stand.account.days[::-1]],
        )
        for stand in line.standings
    ]
    return render_template("pages/practice_account.html", line=line, arms=arms)

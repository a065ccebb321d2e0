"""The case page: where one client stands, their last days, the routine, the phones, the hold."""

import json
from collections.abc import Mapping, Sequence
from functools import partial
from types import SimpleNamespace
from typing import Any

from flask import render_template, request

from webapp.dosing.offers import BY_TAP, Offer
from webapp.events import kinds
from webapp.library.shelf import Shelf, the_shelf
from webapp.practice import blueprint, desk, released
from webapp.practice.caseload import NO_CONTACT
from webapp.practice.days import session_rows
from webapp.practice.forms import ButtonForm, OfferForm, ReleaseForm, offer_prefix
from webapp.practice.loads_and_notes import loads_of, notes_read
from webapp.practice.standing import Line, last_days, line_of
from webapp.records import cases, devices, events, invitations, routines
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.plans import plan_of
from webapp.sync.review import Noticed, noticed, seal
from webapp.words import words_for
from webapp.words.accounts import classed_text
from webapp.words.amounts import KG_OF_UNIT, load_text
from webapp.words.findings import (
    UNNAMED_EMERGENCY,
    UNNAMED_SIGN,
    consider_text,
    evidence_text,
    finding_text,
    since_text,
)
from webapp.words.offers import button_text, draft_text, legend, lettered_days, offer_text, result_text
from webapp.words.paper import account_of_day

DAYS_SHOWN = 14
MOST_DAYS_SHOWN = 3660
SIGNS_SHOWN = 5


def line_for(case: Case) -> Line:
    """Put together where one client stands now."""
    contacts = cases.contacts(desk.records(), desk.signed_in().id)
    return line_of(desk.records(), case, contacts.get(case.id, NO_CONTACT), desk.now())


def movement_names() -> dict[str, str]:
    """Give the name of every movement, by id."""
    return {id_: desk.words().say(movement.name) for id_, movement in the_shelf().movements.items()}


def _sign_texts() -> dict[str, str]:
    """Give the sentence of every warning sign, by id, and of those that were not named."""
    unnamed = {kinds.UNNAMED_SIGN: UNNAMED_SIGN, kinds.UNNAMED_EMERGENCY: UNNAMED_EMERGENCY}
    texts = {sign.id: sign.text for sign in the_shelf().warnings} | unnamed
    return {id_: desk.words().say(text) for id_, text in texts.items()}


def _signs(case: Case) -> list[SimpleNamespace]:
    """List the last warning signs raised: day, text, level if the list has it, the arms, and whether it held them."""
    texts, shelf = _sign_texts(), the_shelf()
    raised = events.latest_of(desk.records(), case.id, ("warning_raised",), SIGNS_SHOWN)
    return [_raised(event.on_day, json.loads(event.raw)["body"], texts, shelf) for event in raised]


def _raised(on_day: str, body: Mapping[str, Any], texts: Mapping[str, str], shelf: Shelf) -> SimpleNamespace:
    sign = body["sign"]
    level = "emergency" if sign == kinds.UNNAMED_EMERGENCY else shelf.level_of(sign)
    held = body["arms"] if body.get("holds", True) else []
    return SimpleNamespace(on=on_day, text=texts.get(sign, sign), level=level, held=held)


def _noticed(line: Line) -> list[Noticed]:
    """List what the review noticed, arm by arm, in the order of its table."""
    accounts = {stand.arm: stand.account for stand in line.standings}
    return noticed(accounts, line.today, plan_of(line.version) if line.version else None)


def _offers(found: Sequence[Noticed]) -> dict[str, Offer]:
    return {each.arm: each.offer for each in found if each.offer}


def offers_shown(line: Line) -> dict[str, Offer]:
    """Return what the case page offers, by arm."""
    return _offers(_noticed(line))


def _said(line: Line) -> SimpleNamespace:
    """Give the sentences of findings and offers, in the desk's language."""
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


def _offer_form(line: Line, arm: str, offer: Offer) -> OfferForm:
    """Build the form of an offer, its reason drafted in the client's language where a tap is enough."""
    drafted = draft_text(words_for(line.case.locale), offer) if offer.needs == BY_TAP else ""
    return OfferForm(prefix=offer_prefix(arm), data={"note": drafted})


def weights_said(weights: list[Mapping[str, Any]]) -> str:
    """Tell weights as entered, the bare hand left out."""
    words, loads = desk.words(), [each for each in weights if each["value"]]
    told = [load_text(words, each["value"] * KG_OF_UNIT[each["unit"]], [each]) for each in loads]
    return ", ".join(told) or load_text(words, 0.0)


def _lost_version(case: Case, versions: Sequence[RoutineVersion]) -> int:
    """Return the newest version that a phone received and that is not on record, 0 where none is above what is."""
    newest = versions[0].version if versions else 0
    return max((each for each in routines.told_versions(desk.records(), case.id) if each > newest), default=0)


@blueprint.get("/cases/<public_id>")
def case(public_id: str) -> str:
    """Show one case."""
    return page(desk.own_case(public_id))


def page(
    shown: Case, releases: Mapping[str, ReleaseForm] | None = None, offers: Mapping[str, OfferForm] | None = None
) -> str:
    """Write the case page, with the forms of releases and offers as they were sent where one had a fault."""
    line, db = line_for(shown), desk.records()
    found = _noticed(line)
    most = min(max(1, request.args.get("days", DAYS_SHOWN, type=int)), MOST_DAYS_SHOWN)
    closed = max((len(stand.account.days) for stand in line.standings), default=0)
    versions = routines.of_client(db, shown.id)
    return render_template(
        "pages/practice_case.html",
        line=line,
        rows=last_days(line, most),
        earlier=closed if closed > most else 0,
        sessions=session_rows(db, shown.id, versions, line.today, most),
        versions=versions,
        lost_version=_lost_version(shown, versions),
        loads=loads_of(db, shown.id, line.today),
        notes_read=notes_read(db, shown.id),
        devices=devices.of_client(db, shown.id),
        invited=invitations.open_of(db, shown.id, desk.now()),
        signs=_signs(shown),
        sign_texts=_sign_texts(),
        noticed=found,
        offer_forms={arm: _offer_form(line, arm, offer) for arm, offer in _offers(found).items()} | dict(offers or {}),
        seal_of_offer=seal,
        said=_said(line),
        classed=partial(classed_text, desk.words()),
        plans={stand.arm: stand.account.plan for stand in line.standings},
        **released.about_holds(shown, line, releases or {}),
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
    return render_template(
        "pages/practice_account.html",
        line=line,
        arms=arms,
        released=released.releases_by_arm(line),
        stand_said=released.stand_said,
    )

"""The case page: where one client stands, their last days, the routine, the phones, the hold."""

import json
from collections.abc import Mapping, Sequence
from functools import partial
from types import SimpleNamespace
from typing import Any

from flask import render_template, request

from webapp.dosing.dose import range_of
from webapp.dosing.offers import BY_TAP, Offer
from webapp.dosing.release import Return
from webapp.events import kinds
from webapp.library.shelf import the_shelf
from webapp.practice import blueprint, desk
from webapp.practice.caseload import NO_CONTACT
from webapp.practice.days import session_rows
from webapp.practice.forms import ButtonForm, OfferForm, ReleaseForm, offer_prefix
from webapp.practice.standing import Line, Standing, last_days, line_of
from webapp.records import cases, devices, events, invitations, routines
from webapp.records.cases import Case
from webapp.sync import hold
from webapp.sync.plans import plan_of
from webapp.sync.review import Noticed, noticed, seal
from webapp.words import words_for
from webapp.words.accounts import classed_text
from webapp.words.amounts import KG_OF_UNIT, load_text, range_text
from webapp.words.catalogue import mark
from webapp.words.findings import UNNAMED_SIGN, consider_text, evidence_text, finding_text, since_text
from webapp.words.offers import button_text, draft_text, legend, lettered_days, offer_text, result_text
from webapp.words.paper import account_of_day

DAYS_SHOWN = 14
RETURN = mark("rung %(rung)s, %(range)s: %(reps)s reps, %(load)s")
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


def return_key(chosen: Return) -> str:
    """Return the value of one choice of the release form."""
    return f"{chosen.rung}@{range_of(chosen.ease)}"


def returns_said(stand: Standing) -> list[tuple[str, str]]:
    """List where a hold may be released to, as value and words, the most that is allowed first."""
    words, ladder = desk.words(), stand.account.plan.ladder
    choices = []
    for chosen in hold.returns_of(stand.account) if stand.state.mode == "held" else []:
        rung = ladder.rung(chosen.rung)
        load = load_text(words, rung.load_kg, stand.weights)
        said = words.say(
            RETURN, rung=chosen.rung, reps=rung.count.reps, load=load, range=range_text(words, range_of(chosen.ease))
        )
        choices.append((return_key(chosen), said))
    return choices


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
        noticed=found,
        offer_forms={arm: _offer_form(line, arm, offer) for arm, offer in _offers(found).items()} | dict(offers or {}),
        seal_of_offer=seal,
        said=_said(line),
        classed=partial(classed_text, desk.words()),
        plans={stand.arm: stand.account.plan for stand in line.standings},
        releases=forms,
        returns_said=returns_said,
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

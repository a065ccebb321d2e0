"""Offers of the review: the present offers, the form that takes up an offer, and the version that follows from it."""

from collections.abc import Mapping, Sequence
from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.dosing.offers import BY_TAP, CEILING, Offer
from webapp.practice.forms.entries import LONGEST_NOTE, at_most, needed, trimmed
from webapp.practice.standing import Line
from webapp.records.routines import RoutineVersion, set_nothing_by_hand
from webapp.sync.bundle.plans import plan_of
from webapp.sync.folding.earlier import times_before
from webapp.sync.folding.review import Noticed, noticed, seal
from webapp.words import words_for
from webapp.words.offers import draft_text


class OfferForm(FlaskForm):
    """The reason, written for the client, for a new usual pain or a new settled ceiling.

    `seen` is a hash of the offer that the page showed. If the log has changed the offer meanwhile, the hash differs, and
    the offer is not taken up.
    """

    note = TextAreaField(validators=[needed, at_most(LONGEST_NOTE)], filters=[trimmed])
    seen = StringField()


def offer_prefix(arm: str) -> str:
    """Return the prefix of the names of an offer's fields."""
    return f"{arm}-offer"


def noticed_of(line: Line) -> list[Noticed]:
    """List the findings of the review for a client, arm by arm, in the order of the review's table."""
    accounts = {stand.arm: stand.account for stand in line.standings}
    return noticed(accounts, line.today, plan_of(line.version) if line.version else None, line.course)


def offers_of(found: Sequence[Noticed]) -> dict[str, Offer]:
    """Return the offers among the findings, by arm."""
    return {each.arm: each.offer for each in found if each.offer}


def offers_shown(line: Line) -> dict[str, Offer]:
    """Return the offers on the case page, by arm."""
    return offers_of(noticed_of(line))


def offer_form(line: Line, arm: str, offer: Offer) -> OfferForm:
    """Build the form of an offer; if a tap is enough, the reason is drafted in the client's language."""
    drafted = draft_text(words_for(line.case.locale), offer) if offer.needs == BY_TAP else ""
    return OfferForm(prefix=offer_prefix(arm), data={"note": drafted})


def about_offers(line: Line, sent: Mapping[str, OfferForm]) -> dict[str, Any]:
    """Return the findings, the form of each offer among them, and the hash of an offer, for the case page.

    Args:
        line: The client today.
        sent: The form of each arm that was sent with a fault; it takes the place of the new form.
    """
    found = noticed_of(line)
    accounts = {stand.arm: stand.account for stand in line.standings}
    before = times_before(accounts, found, line.courses, line.today)
    forms = {arm: offer_form(line, arm, offer) for arm, offer in offers_of(found).items()}
    return {"noticed": found, "noticed_before": before, "offer_forms": forms | dict(sent), "seal_of_offer": seal}


def changed(version: RoutineVersion, offer: Offer) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
    """Return a version's routine and settings, changed to the offered value; each arm stays on its rung."""
    settings = set_nothing_by_hand(version.settings)
    if offer.lever == CEILING:
        tuning = {**version.routine.get("tuning", {}), CEILING: offer.value}
        return {**version.routine, "tuning": tuning}, settings
    return version.routine, {**settings, "usual": offer.value}

"""Offers of the review: which stand, the form that takes one up, and what taking it up changes."""

from collections.abc import Mapping, Sequence
from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.dosing.offers import BY_TAP, CEILING, Offer
from webapp.practice.forms.entries import LONGEST_NOTE, at_most, needed, trimmed
from webapp.practice.standing import Line
from webapp.records.routines import RoutineVersion
from webapp.sync.plans import plan_of
from webapp.sync.review import Noticed, noticed
from webapp.words import words_for
from webapp.words.offers import draft_text


class OfferForm(FlaskForm):
    """The reason, for the client, for another usual pain or settled ceiling.

    `seen` seals the offer that the page showed: one that the log has changed meanwhile is not taken up unread.
    """

    note = TextAreaField(validators=[needed, at_most(LONGEST_NOTE)], filters=[trimmed])
    seen = StringField()


def offer_prefix(arm: str) -> str:
    """Return what the names of an offer's fields begin with."""
    return f"{arm}-offer"


def noticed_of(line: Line) -> list[Noticed]:
    """List what the review noticed of a client, arm by arm, in the order of its table."""
    accounts = {stand.arm: stand.account for stand in line.standings}
    return noticed(accounts, line.today, plan_of(line.version) if line.version else None)


def offers_of(found: Sequence[Noticed]) -> dict[str, Offer]:
    """Return the offers among what was noticed, by arm."""
    return {each.arm: each.offer for each in found if each.offer}


def offers_shown(line: Line) -> dict[str, Offer]:
    """Return what the case page offers, by arm."""
    return offers_of(noticed_of(line))


def offer_form(line: Line, arm: str, offer: Offer) -> OfferForm:
    """Build the form of an offer, its reason drafted in the client's language where a tap is enough."""
    drafted = draft_text(words_for(line.case.locale), offer) if offer.needs == BY_TAP else ""
    return OfferForm(prefix=offer_prefix(arm), data={"note": drafted})


def changed(version: RoutineVersion, offer: Offer) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
    """Return a version's routine and settings with the offered value; the arms carry on where they are."""
    # A rung that the version began on must not be begun on again.
    settings = {**version.settings, "start_rungs": {}}
    if offer.lever == CEILING:
        tuning = {**version.routine.get("tuning", {}), CEILING: offer.value}
        return {**version.routine, "tuning": tuning}, settings
    return version.routine, {**settings, "usual": offer.value}

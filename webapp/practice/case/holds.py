"""Holds on the case page: the release form, the rungs on which an arm may start again, the releases on record."""

from collections.abc import Mapping
from datetime import date
from functools import partial
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, StringField, TextAreaField

from webapp.dosing.dose import range_of
from webapp.dosing.release import Return
from webapp.dosing.settings import ARMS
from webapp.events.kinds import SEEN_BY
from webapp.practice import desk
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.practice.forms.fields import DayField, OneOfField
from webapp.practice.standing import Line, Standing
from webapp.records.cases import Case
from webapp.sync.case import hold
from webapp.sync.case.releases import Released, releases_of
from webapp.words.amounts import load_text, range_text
from webapp.words.catalogue import mark

LONGEST_REASON = 280
RETURN = mark("rung %(rung)s, %(range)s: %(reps)s reps, %(load)s")
STAND = mark("rung %(rung)s, %(range)s")


class ReleaseForm(FlaskForm):
    """The form that releases a held arm.

    It asks where the arm starts again (`chosen`, as `rung@range`), the reason, that the practitioner talked with the
    client and, after some holds, who has seen the arm. `seen` is a hash of the sharp reports that the page listed. If a
    report comes in or is answered meanwhile, the hash differs, and the practitioner must read the page again.
    """

    arm = OneOfField(ARMS, validators=[needed])
    chosen = OneOfField(validators=[needed])
    reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    seen_by = OneOfField(SEEN_BY)
    seen_on = DayField()
    confirmed = BooleanField(validators=[needed])
    seen = StringField()

    def ask_who_saw(self, earliest: date, latest: date) -> None:
        """Make the two fields about who has seen the arm required, with a day from `earliest` to `latest`."""
        self.seen_on.earliest, self.seen_on.latest = earliest, latest
        for field in (self.seen_by, self.seen_on):
            field.validators = (needed,)

    @property
    def asks_who_saw(self) -> bool:
        """Whether the form asks who has seen the arm."""
        return needed in self.seen_by.validators


def return_key(chosen: Return) -> str:
    """Return the form's value for one choice: `rung@range`."""
    return f"{chosen.rung}@{range_of(chosen.ease)}"


def ask_who_saw(form: ReleaseForm, shown: Case, stand: Standing, today: date) -> None:
    """If the hold needs it, make the form ask who has seen the arm, on a day from the first report to today."""
    reports = hold.sharp_of(desk.records(), shown.id, stand.arm)
    if hold.asks_who_saw(stand.account, reports, today):
        form.ask_who_saw(min((report.on for report in hold.fresh(reports)), default=today), today)


def who_saw(shown: Case, today: date, stand: Standing) -> str:
    """Return the reason why the form asks who has seen a held arm, or "" if it does not ask."""
    return hold.asks_who_saw(stand.account, hold.sharp_of(desk.records(), shown.id, stand.arm), today)


def release_form(shown: Case, stand: Standing, today: date) -> ReleaseForm:
    """Build the empty release form of one arm; it asks who has seen the arm if the hold needs that."""
    form = ReleaseForm(prefix=stand.arm)
    if stand.mode == "held":
        ask_who_saw(form, shown, stand, today)
    return form


def about_holds(shown: Case, line: Line, sent: Mapping[str, ReleaseForm]) -> dict[str, Any]:
    """Return the values and functions for the holds on the case page.

    Args:
        shown: The case.
        line: The client today.
        sent: The form of each arm that was sent with a fault; it takes the place of the empty form.
    """
    return {
        "releases": {stand.arm: release_form(shown, stand, line.today) for stand in line.standings} | dict(sent),
        "released": releases_by_arm(line),
        "stand_said": stand_said,
        "release_on": hold.release_on,
        "who_saw": partial(who_saw, shown, line.today),
        "returns_said": returns_said,
        "sharp_of": partial(hold.sharp_of, desk.records(), shown.id),
        "seal": hold.seal,
    }


def releases_by_arm(line: Line) -> dict[str, list[Released]]:
    """List the releases of each arm, the newest first."""
    db = desk.records()
    return {stand.arm: releases_of(db, line.case.id, stand.arm, stand.account, line.today) for stand in line.standings}


def stand_said(stood: Return | None) -> str:
    """Return a text with the rung and the range at which an arm stood, or "" if they are unknown."""
    words = desk.words()
    return words.say(STAND, rung=stood.rung, range=range_text(words, range_of(stood.ease))) if stood else ""


def returns_said(stand: Standing) -> list[tuple[str, str]]:
    """List the rungs and ranges to which a hold may be released, as (form value, text) pairs, the highest first."""
    words, ladder = desk.words(), stand.account.plan.ladder
    choices = []
    for chosen in hold.returns_of(stand.account):
        rung = ladder.rung(chosen.rung)
        load = load_text(words, rung.load_kg, stand.weights)
        said = words.say(
            RETURN, rung=chosen.rung, reps=rung.count.reps, load=load, range=range_text(words, range_of(chosen.ease))
        )
        choices.append((return_key(chosen), said))
    return choices

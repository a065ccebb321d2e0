"""What the case page shows of holds and their end: the form, where an arm may start again, the releases on record."""

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
from webapp.sync import hold
from webapp.sync.releases import Released, releases_of
from webapp.words.amounts import load_text, range_text
from webapp.words.catalogue import mark

LONGEST_REASON = 280
RETURN = mark("rung %(rung)s, %(range)s: %(reps)s reps, %(load)s")
STAND = mark("rung %(rung)s, %(range)s")


class ReleaseForm(FlaskForm):
    """Where a held arm starts again, as `rung@range`, why, that it was talked over and, where asked, who has seen it.

    `seen` seals the sharp reports that the page listed: one that comes in or is answered meanwhile is not released unread.
    """

    arm = OneOfField(ARMS, validators=[needed])
    chosen = OneOfField(validators=[needed])
    reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    seen_by = OneOfField(SEEN_BY)
    seen_on = DayField()
    confirmed = BooleanField(validators=[needed])
    seen = StringField()

    def ask_who_saw(self, earliest: date, latest: date) -> None:
        """Ask who has seen the arm, and on which day of a span; without this the two entries are not asked for."""
        self.seen_on.earliest, self.seen_on.latest = earliest, latest
        for field in (self.seen_by, self.seen_on):
            field.validators = (needed,)

    @property
    def asks_who_saw(self) -> bool:
        """Say whether it is asked who has seen the arm."""
        return needed in self.seen_by.validators


def return_key(chosen: Return) -> str:
    """Return the value of one choice of the release form."""
    return f"{chosen.rung}@{range_of(chosen.ease)}"


def ask_who_saw(form: ReleaseForm, shown: Case, stand: Standing, today: date) -> None:
    """Have a form ask who has seen the arm, where its hold asks for that: from the first report to today."""
    reports = hold.sharp_of(desk.records(), shown.id, stand.arm)
    if hold.asks_who_saw(stand.account, reports, today):
        form.ask_who_saw(min((report.on for report in hold.fresh(reports)), default=today), today)


def who_saw(shown: Case, today: date, stand: Standing) -> str:
    """Say why it is asked who has seen a held arm; nothing where it is not asked."""
    return hold.asks_who_saw(stand.account, hold.sharp_of(desk.records(), shown.id, stand.arm), today)


def release_form(shown: Case, stand: Standing, today: date) -> ReleaseForm:
    """Build the empty form of one arm, which asks who has seen it where the hold asks for that."""
    form = ReleaseForm(prefix=stand.arm)
    if stand.mode == "held":
        ask_who_saw(form, shown, stand, today)
    return form


def about_holds(shown: Case, line: Line, sent: Mapping[str, ReleaseForm]) -> dict[str, Any]:
    """Return what the case page needs of holds: forms, as they were sent where one had a fault, and what is on record."""
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
    """Say where an arm stands: rung and range; nothing where it is not known."""
    words = desk.words()
    return words.say(STAND, rung=stood.rung, range=range_text(words, range_of(stood.ease))) if stood else ""


def returns_said(stand: Standing) -> list[tuple[str, str]]:
    """List where a hold may be released to, as value and words, the most that is allowed first."""
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

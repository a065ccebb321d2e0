"""The form of a week's diary: a row for each day, and for each arm its morning, its worst in a session, how much was done."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, cast

from flask_wtf import FlaskForm
from wtforms import BooleanField, StringField

from webapp.dosing.faults import Fault
from webapp.dosing.settings import BOUNDS, Bound
from webapp.library.shelf import the_shelf
from webapp.practice.forms.fields import NumberField, OneOfField
from webapp.sync.from_paper.typed_days import NOTHING, WHOLE_PER_CENT, OnRecord, Said
from webapp.sync.from_paper.typing_in import OnPaper

DAYS = 7
THIS_WEEK, WEEK_BEFORE = "this", "before"
BEGAN = (THIS_WEEK, WEEK_BEFORE)
SPORT = Bound(0, 1440, "minutes", "own-choice")
NUMBERS = {"morning": BOUNDS["rating"], "worst": BOUNDS["rating"], "done": BOUNDS["done"]}
PARTS = (*NUMBERS, "sharp")


def name_of(part: str, arm: str, index: int) -> str:
    """Return the name of an entry of the form."""
    return f"{part}_{arm}_{index}"


@dataclass(frozen=True)
class Row:
    """One day of the form: its fields by arm and part, what phones said by arm, and whether it is still to come."""

    on: date
    fields: Mapping[str, Mapping[str, Any]]
    phone: Mapping[str, Said]
    sport: Any
    is_ahead: bool

    @property
    def faults(self) -> list[tuple[Any, str, str]]:
        """List (field, arm, part) of each entry with a fault."""
        found = [(field, arm, part) for arm, parts in self.fields.items() for part, field in parts.items()]
        return [each for each in [*found, (self.sport, "", "sport")] if each[0].errors]


class WeekForm(FlaskForm):
    """What every week's form has; `for_week` adds the days. `seen` is a hash of the entries that the page showed."""

    seen = StringField()
    sign = OneOfField([sign.id for sign in the_shelf().warnings])
    sign_on = OneOfField()
    sheet_began = OneOfField(BEGAN)


class Week:
    """A week of one client: its days, its form, and what the log says of it already."""

    def __init__(
        self, first: date, today: date, arms: Sequence[str], record: OnRecord, *, follows_typed: bool = False
    ) -> None:
        """Make the form; `follows_typed` says that the week before was typed in, so that its sheet may go on here."""
        self.follows_typed = follows_typed
        self.days = [first + timedelta(days=count) for count in range(DAYS)]
        self.today, self.arms, self.record = today, arms, record
        self.form = self._form()
        self.form.sign_on.offered = tuple(day.isoformat() for day in self.days)
        if not self.form.is_submitted():
            self._fill()

    def _form(self) -> Any:
        fields: dict[str, Any] = {f"sport_{index}": NumberField(SPORT) for index in range(DAYS)}
        for index in range(DAYS):
            for arm in self.arms:
                fields |= {name_of(part, arm, index): NumberField(bound) for part, bound in NUMBERS.items()}
                fields[name_of("sharp", arm, index)] = BooleanField()
        return cast("Any", type("WholeWeekForm", (WeekForm,), fields))()

    def _fill(self) -> None:
        self.form.seen.data = self.record.seal
        for index, on in enumerate(self.days):
            self.form[f"sport_{index}"].data = self.record.sport.get(on) or None
            for arm in self.arms:
                said = self.record.typed.get(on, {}).get(arm, NOTHING)
                for part in PARTS:
                    self.form[name_of(part, arm, index)].data = getattr(said, part)
                if said.worst is not None and said.done in (None, WHOLE_PER_CENT):
                    # An empty entry means the whole; a rating without any work stands beside a 0.
                    self.form[name_of("done", arm, index)].data = None if said.done else 0

    @property
    def rows(self) -> list[Row]:
        """The days in order."""
        return [
            Row(
                on,
                {arm: {part: self.form[name_of(part, arm, index)] for part in PARTS} for arm in self.arms},
                {arm: self.record.phones.get(on, {}).get(arm, NOTHING) for arm in self.arms},
                self.form[f"sport_{index}"],
                on > self.today,
            )
            for index, on in enumerate(self.days)
        ]

    @property
    def sheet_on(self) -> date:
        """The first day of the sheet that these days were written on."""
        return self.days[0] - timedelta(days=DAYS) if self.form.sheet_began.data == WEEK_BEFORE else self.days[0]

    @property
    def has_phone(self) -> bool:
        """Whether a phone has told of any of these days."""
        return bool(self.record.phones)

    def judge(self) -> bool:
        """Check every entry; whatever is typed about a day to come is a fault."""
        is_whole = bool(self.form.validate())
        if self.follows_typed and not self.form.sheet_began.data:
            self.form.sheet_began.errors, is_whole = [Fault("missing", "sheet_began", "")], False
        for row in self.rows:
            is_whole = _judge(row) and is_whole
        if self.form.sign.data and not self.form.sign_on.data:
            self.form.sign_on.errors = [Fault("missing", "sign_on", "")]
            return False
        if self.form.sign_on.data and self.form.sign_on.data > self.today.isoformat():
            self.form.sign_on.errors = [Fault("still_to_come", "sign_on", self.form.sign_on.data)]
            return False
        return is_whole

    def typed(self) -> OnPaper:
        """Return what was typed in."""
        rows = [row for row in self.rows if not row.is_ahead]
        signs = ((date.fromisoformat(self.form.sign_on.data), self.form.sign.data),) if self.form.sign.data else ()
        return OnPaper(
            {row.on: {arm: _said(parts) for arm, parts in row.fields.items()} for row in rows},
            {row.on: row.sport.data or 0 for row in rows},
            signs,
            self.days[0],
        )


def _judge(row: Row) -> bool:
    is_right = True
    typed = [field for parts in row.fields.values() for field in parts.values()]
    for field in [*typed, row.sport] if row.is_ahead else ():
        if field.data and not field.errors:
            field.errors, is_right = [Fault("still_to_come", field.short_name, row.on.isoformat())], False
    return is_right


def _said(parts: Mapping[str, Any]) -> Said:
    worst, done = parts["worst"].data, parts["done"].data
    whole = WHOLE_PER_CENT if worst is not None else None
    return Said(parts["morning"].data, worst, (done or None) if done is not None else whole, bool(parts["sharp"].data))

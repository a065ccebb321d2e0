"""The client's own activities on the case page: their names, which the practitioner writes down, and how each was rated."""

import hashlib
import json
from collections.abc import Sequence
from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField

from webapp.events.activities import MOST_NAMED, NAME_LENGTH, NAMED, RATED, TOLD, named_in, ratings_in
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.practice import desk
from webapp.practice.forms.entries import at_most, trimmed
from webapp.records import events
from webapp.records.cases import Case
from webapp.records.database import Database
from webapp.sync.log.diary import entries_of

KINDS_READ = (NAMED, RATED, TOLD, "entry_corrected")
ALL = -1


class ActivitiesForm(FlaskForm):
    """Up to three activities, in the client's words; `seen` is a hash of those that the page showed."""

    activity_1 = StringField(validators=[at_most(NAME_LENGTH)], filters=[trimmed])
    activity_2 = StringField(validators=[at_most(NAME_LENGTH)], filters=[trimmed])
    activity_3 = StringField(validators=[at_most(NAME_LENGTH)], filters=[trimmed])
    seen = StringField()

    @property
    def names(self) -> list[str]:
        """The names that were written, each once."""
        written = [self[f"activity_{number}"].data for number in range(1, MOST_NAMED + 1)]
        return list(dict.fromkeys(name for name in written if name))


def named_now(db: Database, client: int) -> tuple[str, ...]:
    """Return the names of a client's activities as the log has them now."""
    return named_in(_entries(db, client))


def seal(names: Sequence[str]) -> str:
    """Return a short hash of the names of activities."""
    return hashlib.sha256(json.dumps(list(names)).encode()).hexdigest()[:16]


def _entries(db: Database, client: int) -> list[Event]:
    return corrected_entries(entries_of(events.latest_of(db, client, KINDS_READ, ALL)))


def about_activities(shown: Case, sent: ActivitiesForm | None) -> dict[str, Any]:
    """Return the activities, their ratings by activity, and the form for the case page."""
    entries = _entries(desk.records(), shown.id)
    names, ratings = named_in(entries), ratings_in(entries)
    form = sent or ActivitiesForm(
        formdata=None,
        prefix="activities",
        data={f"activity_{number}": name for number, name in enumerate(names, 1)},
    )
    rows = [(name, [each for each in ratings if each.activity == name]) for name in names]
    return {"activities": rows, "activities_form": form, "activities_seal": seal(names)}

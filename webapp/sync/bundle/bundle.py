"""The bundle: everything that a phone needs to follow one routine version, in one language.

Pure: may know the core, the content on the shelf and words, but no database and no HTTP.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import msgspec

from webapp.dosing import figures
from webapp.dosing.almanac import Almanac, build
from webapp.dosing.findings.numbers import FEWEST_MORNINGS
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.responses import SHOWN
from webapp.dosing.rules import TENDER
from webapp.dosing.state import State
from webapp.library.client import read_client_file
from webapp.library.habits import Habit, the_habits
from webapp.library.movement import Movement
from webapp.library.own_movement import own_in
from webapp.library.routine import read_routine
from webapp.library.shelf import Shelf, the_shelf
from webapp.sync.bundle.bundle_parts import BundleParts, Weights
from webapp.sync.bundle.bundle_way import way_table
from webapp.wire import bundle as wire
from webapp.words import Words, words_for
from webapp.words.habits import BASIS
from webapp.words.reasons import REASONS
from webapp.words.reasons import RESPONSES as RESPONSE_WORDS

FORMAT = 1
ALMANACS_KEPT = 8
ENDS_DAY = ("sharp", "flared", "flared_idle")


@dataclass(frozen=True)
class Prescribed:
    """A routine version, fitted to its client.

    Attributes:
        plan: The routine fitted to the client.
        version: The routine's number.
        note: The practitioner's note to the client.
        weights: The weights as entered, each with `value` and `unit`.
        own: The movements of the practice's own that the routine carries.
    """

    plan: Plan
    version: int
    note: str = ""
    weights: Weights = ()
    own: Sequence[Movement] = ()


def prescribed(routine: Mapping[str, Any], settings: Mapping[str, Any], version: int, note: str = "") -> Prescribed:
    """Fit a stored routine to stored settings.

    Raises:
        NotAcceptedError: One of the mappings has faults.
    """
    client_file = read_client_file(settings)
    plan = make_plan(read_routine(routine), client_file.client)
    return Prescribed(plan, version, note, client_file.weights, own_in(routine))


@lru_cache(ALMANACS_KEPT)
def almanac_of(plan: Plan, entries: tuple[State, ...] = ()) -> Almanac:
    """Build the almanac of a bundle, or return the cached almanac of the same plan and entries."""
    return build(plan, entries)


def make_bundle(prescription: Prescribed, words: Words, shelf: Shelf, entries: Iterable[State] = ()) -> dict[str, Any]:
    """Make a bundle.

    Some tables have a compact form. `almanac.next` holds a column of next rows for each response; each row is written as its
    difference from the row before it. `almanac.why` holds indexes into `almanac.whys`. A sheet is a list of indexes into
    `steps`. A dose's `short` and `sport` are indexes into `counts`.

    Args:
        prescription: The routine version, fitted to its client.
        words: The catalogue of the language.
        shelf: The content.
        entries: States that the almanac must contain besides the start, such as states that are carried over.

    Returns:
        A mapping of plain JSON values; `hash` is the hash of all other values.
    """
    parts = BundleParts(prescription.plan, prescription.weights, words, shelf.with_own(prescription.own))
    almanac = almanac_of(prescription.plan, tuple(entries))
    client, routine = prescription.plan.client, prescription.plan.routine
    # The order matters: writing the doses collects the sheets, and writing the sheets collects the steps.
    doses = [parts.dose(dose) for dose in almanac.doses]
    sheets = [parts.sheet(steps) for steps in parts.sheets]
    made = wire.Bundle(
        hash="",
        format=FORMAT,
        locale=words.locale,
        routine=wire.RoutineHead(version=prescription.version, title=words.say(routine.title), note=prescription.note),
        arms=client.arms,
        usual=client.usual,
        almanac=parts.almanac(almanac),
        doses=doses,
        sheets=sheets,
        steps=parts.all_steps(),
        counts=list(parts.counts),
        timing=parts.timing(),
        cube=almanac.cube,
        ranges=[step.value for step in figures.RANGE_BY_EASE],
        rep_work=parts.rep_work(),
        why={rule: words.say(text) for rule, text in REASONS.items()},
        movements=parts.movements(),
        responses={name: words.say(RESPONSE_WORDS[shown]) for name, shown in SHOWN.items()},
        change_arm=parts.change_arm(),
        ends_day=ENDS_DAY,
        apart=wire.Apart(hours=figures.SESSIONS_APART.value, latest=figures.LATEST_START.value),
        asks=_asks(),
        way=way_table(words),
        habits={id_: _habit(habit, words) for id_, habit in the_habits().items()},
        warnings=parts.warnings(),
        to_do=parts.to_do(),
        to_know=parts.to_know(),
        caution=words.say(shelf.caution.short),
    )
    plain: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(made, order="sorted"))
    return {**plain, "hash": hash_of(plain)}


def _habit(habit: Habit, words: Words) -> wire.Habit:
    say = words.say
    basis = " · ".join(dict.fromkeys(say(BASIS[source.mark]) for source in habit.sources))
    return wire.Habit(name=say(habit.name), text=say(habit.text), caution=say(habit.caution), basis=basis)


def _asks() -> wire.Asks:
    return wire.Asks(
        late=int(figures.LATE_MORNINGS.value),
        away=int(figures.AWAY_ASKED.value),
        long_away=int(figures.AWAY_LONG.value),
        sore_days=int(figures.SORE_ASKED.value),
        activity_weeks=[int(week.value) for week in figures.ACTIVITY_WEEKS.values()],
        week_reports=int(FEWEST_MORNINGS.value),
        sore=TENDER,
    )


def make_stored_bundle(
    routine: Mapping[str, Any],
    settings: Mapping[str, Any],
    version: int,
    note: str,
    locale: str,
    entries: Iterable[State] = (),
) -> dict[str, Any]:
    """Make a bundle from a stored routine version, with the content of this installation.

    Raises:
        NotAcceptedError: One of the mappings has faults.
    """
    return make_bundle(prescribed(routine, settings, version, note), words_for(locale), the_shelf(), entries)


def bundle_bytes(bundle: Mapping[str, Any]) -> bytes:
    """Write a bundle as JSON; the same bundle always gives the same bytes."""
    return json.dumps(bundle, ensure_ascii=False, separators=(",", ":"), sort_keys=True).encode()


def hash_of(bundle: Mapping[str, Any]) -> str:
    """Return the hash of a bundle's content, without `hash` itself: 32 hexadecimal digits."""
    rest = {key: value for key, value in bundle.items() if key != "hash"}
    return hashlib.sha256(bundle_bytes(rest)).hexdigest()[:32]

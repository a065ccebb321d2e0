"""Rules that the phone and the server share; each test asks both sides."""

import random
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from tests.cast import FIRST_DAY
from webapp.dosing.figures import SHARP_RATING
from webapp.events.codec import check_body
from webapp.events.kinds import EventError
from webapp.sync.log.local_day import local_day
from webapp.wire.sync import FORMAT, MOST_EVENTS
from webapp.words.amounts import KG_OF_UNIT

LIMITS = """async (load) => {
  const { MOST_EVENTS, nextBatch } = await load("pure/sync/batch.js");
  const waiting = Array.from({ length: MOST_EVENTS + 1 }, (_, seq) => ({ seq }));
  return { most: MOST_EVENTS, sent: nextBatch(waiting, MOST_EVENTS).length };
}"""
BELIEVED = """async (load, { formats }) => {
  const { isBelievable } = await load("pure/sync/reply.js");
  const reply = { epoch: "e", cursor: 0, results: [], events: [], more: false, bundle: null };
  return formats.filter((format) => isBelievable("application/json", { ...reply, format }));
}"""
DAYS = """async (load, { instants }) => {
  const { dayAt } = await load("pure/calendar/local_day.js");
  return instants.map(([ms, offset]) => dayAt(ms, offset));
}"""
NOTE = """async (load, { note }) => {
  const { finishedBody } = await load("pure/session/run.js");
  const plan = { routineVersion: 1, steps: [], arms: [{ arm: "right", dose: { sessions: 1, sets: [] } }], repWork: {} };
  const draft = { ratings: {}, note };
  return finishedBody({ plan, draft, begun: [], done: [], reps: {}, gaps: [], workedMs: 0, ended: "", why: "", sharpArm: "right" });
}"""
# Summer time began and ended in these zones within the year; Kathmandu is 5:45 from UTC. IANA time zone database.
ZONES = ("Europe/Lisbon", "America/St_Johns", "Pacific/Auckland", "Asia/Kathmandu", "UTC")


def test_a_request_carries_as_many_entries_as_the_server_takes(ask):
    assert ask(LIMITS) == {"most": MOST_EVENTS, "sent": MOST_EVENTS}


def test_the_phone_believes_the_format_that_the_server_writes_and_no_other(ask):
    assert ask(BELIEVED, formats=[FORMAT - 1, FORMAT, FORMAT + 1]) == [FORMAT]


def test_a_day_begins_at_three_on_both_sides(ask):
    dice, instants = random.Random(3), []  # noqa: S311 - invented instants, not a secret
    for zone in map(ZoneInfo, ZONES):
        three = [datetime(2026, 3, 29, 3, tzinfo=zone), datetime(2026, 10, 25, 3, tzinfo=zone)]
        around = [at.astimezone(UTC) + timedelta(minutes=more) for at in three for more in (-61, -1, 0, 1, 59)]
        others = [datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=dice.randrange(525_600)) for _ in range(200)]
        instants += [(at, zone) for at in around + others]
    # An offset is in minutes west of UTC, as getTimezoneOffset returns it.
    offsets = [
        (int(at.timestamp() * 1000), -at.astimezone(zone).utcoffset().total_seconds() / 60) for at, zone in instants
    ]
    assert ask(DAYS, instants=offsets) == [local_day(at, zone.key).isoformat() for at, zone in instants]
    assert local_day(datetime(2026, 3, 2, 2, 59, tzinfo=UTC), "UTC") == FIRST_DAY - timedelta(days=1)
    assert local_day(datetime(2026, 3, 2, 3, 0, tzinfo=UTC), "UTC") == FIRST_DAY


@pytest.mark.parametrize("letter", ["x", "é", "語", "🙂"])
def test_a_note_is_cut_to_what_the_server_takes(ask, letter):
    body = ask(NOTE, note=letter * 400)
    check_body("session_finished", body)
    assert len(body["note"]) >= 140
    with pytest.raises(EventError):
        check_body("session_finished", {**body, "note": letter * 281})


def test_a_pound_weighs_the_same_on_both_sides(ask):
    assert ask('async (load) => (await load("pure/dose/units.js")).KG_OF_UNIT') == KG_OF_UNIT


def test_a_rating_stops_from_the_same_height_on_both_sides(ask):
    assert ask('async (load) => (await load("pure/dose/stops.js")).SHARP_RATING') == SHARP_RATING.value


INTAKE = [["arm", "right"], ["place", "wrist_front"], ["usual", "1"], ["sport_days", "0"]]
FORM = """async (load, { forms }) => {
  const [{ faultIn, bodyOf }, { fitsKind }] = [await load("pure/arriving/intake.js"), await load("pure/sync/entry_check.js")];
  return forms.map(([step, fields]) => {
    const fault = faultIn(fields, step);
    return [fault === null, fault === null ? bodyOf(fields) : null, fault === null && fitsKind("intake_told", bodyOf(fields))];
  });
}"""


@pytest.mark.parametrize(
    ("step", "field", "most", "name", "share"),
    [
        ("weights", "other_weight", 50, "weights_kg", 1),
        ("rest", "mass_kg", 300, "mass_kg", 1),
        ("rest", "height_cm", 300, "height_m", 100),
    ],
)
def test_the_form_of_the_intake_takes_what_the_server_takes_and_no_more(ask, step, field, most, name, share):
    forms = [[step, [*INTAKE, [field, str(number)]]] for number in (most, most + 0.1)]
    (is_taken, body, fits), (is_more_taken, _, _) = ask(FORM, forms=forms)
    assert (is_taken, fits, is_more_taken) == (True, True, False)
    check_body("intake_told", body)
    more = (most + 0.1) / share
    with pytest.raises(EventError):
        check_body("intake_told", body | {name: [more] if name == "weights_kg" else more})


def test_a_day_of_sport_has_as_many_minutes_on_both_sides(ask):
    minutes = ask('async (load) => (await load("pure/calendar/local_day.js")).MINUTES_A_DAY')
    check_body("exposure_noted", {"what": "sport", "minutes": minutes})
    with pytest.raises(EventError):
        check_body("exposure_noted", {"what": "sport", "minutes": minutes + 1})

"""Lateness is worked out rightly from what a probe would note: nothing here plays, waits or listens."""

import pytest

from webapp.bench import timing

STEPS = (
    {"seconds": 3, "reps": 0, "up": 0, "down": 0},
    {"seconds": 10, "reps": 2, "up": 2, "down": 3},
    {"seconds": 2.5, "reps": 0, "up": 0, "down": 0},
)
DUE = [0, 1000, 2000, 3000, 5000, 8000, 10000, 13000, 13500, 14500]
BEGAN, WALL_LESS_MONO = 5000.0, 1_800_000_000_000.0
CUES = [3000, 5000, 8000, 10000]


def heard(screen_late=0.0, tone_late_ms=0.0, shift_at=None, shift_ms=0.0):
    """A session that began at 5000 on the forward clock, its sound's clock 1 s behind, with everything so much late."""
    tones = [(cue + tone_late_ms, int(shift_at is not None and cue >= shift_at)) for cue in CUES]
    planned = [
        {"at": _audio(cue) + layout * shift_ms / 1000, "layout": layout}
        for cue, (_, layout) in zip(CUES, tones, strict=True)
    ]
    return {
        "clocks": [
            {"audio": at / 1000 - 1, "mono": at, "wallLessMono": WALL_LESS_MONO} for at in range(0, 25_000, 250)
        ],
        "saved": [
            {"step": 0, "activeMs": at, "wallAt": WALL_LESS_MONO + BEGAN + at, "keptAt": BEGAN + at}
            for at in (1000, 6000)
        ],
        "shown": [
            {"writtenAt": BEGAN + at + screen_late, "paintedAt": BEGAN + at + screen_late + 8, "text": f"a|{at}|b"}
            for at in DUE[1:]
        ],
        "planned": planned,
        "onsets": [each["at"] + tone_late_ms / 1000 for each in planned],
    }


def _audio(cue):
    return (BEGAN + cue) / 1000 - 1


def test_what_must_change_on_the_screen_follows_from_the_sheet():
    assert list(timing.due_changes(STEPS)) == DUE


def test_the_start_is_where_the_writings_of_the_run_point_to():
    assert timing.began_at(heard()) == BEGAN


@pytest.mark.parametrize("late", [0, 30, 400])
def test_a_change_is_as_late_as_its_painting(late):
    found = timing.screen_lateness(heard(screen_late=late), STEPS, 15_000)
    assert found == pytest.approx([late + 8] * (len(DUE) - 1))


def test_a_change_that_never_came_counts_as_missed():
    noted = heard()
    noted["shown"] = [each for each in noted["shown"] if "|5000|" not in each["text"]]
    assert max(timing.screen_lateness(noted, STEPS, 15_000)) > timing.MISSED


@pytest.mark.parametrize("late", [0.0, 4.0, 40.0])
def test_a_tone_is_off_the_sheet_by_what_the_signal_is(late):
    found = timing.tones_of(heard(tone_late_ms=late), CUES)
    assert [tone.due for tone in found] == CUES
    assert timing.sheet_errors(found) == pytest.approx([late] * len(CUES), abs=1e-6)


def test_a_new_layout_is_measured_from_its_own_origin_and_against_the_session_clock():
    noted = heard(shift_at=8000, shift_ms=20)
    found = timing.tones_of(noted, CUES)
    assert max(timing.sheet_errors(found)) == pytest.approx(0, abs=1e-6)
    assert timing.clock_lateness(noted, found) == pytest.approx([0, 0, 20, 20], abs=1e-6)


def test_tones_moved_within_a_layout_are_told_and_count_as_errors():
    noted = heard(shift_at=8000, shift_ms=20)
    noted["planned"] = [{**each, "layout": 0} for each in noted["planned"]]
    found = timing.tones_of(noted, CUES)
    assert timing.moved_origins(found) == [20]
    assert max(timing.sheet_errors(found)) == pytest.approx(10, abs=1e-6)
    assert timing.moved_origins(timing.tones_of(heard(shift_at=8000, shift_ms=20), CUES)) == []


@pytest.mark.parametrize("slip_ms", [0, 20, -35])
def test_how_far_the_clocks_came_apart_is_told_and_one_wild_reading_is_not(slip_ms):
    noted = heard()
    for each in noted["clocks"][50:]:
        each["audio"] += slip_ms / 1000
    noted["clocks"][30]["audio"] += 0.3
    assert timing.clocks_apart(noted) == abs(slip_ms)


def test_drift_is_the_end_less_the_beginning():
    assert timing.drift([0, 0, 5, 5, 9, 9, 12, 12, 20, 20]) == 20
    assert timing.drift([]) == 0


def test_the_spread_of_a_hundred_tells_the_middle_the_ninety_fifth_and_the_most():
    assert timing.spread(list(range(100))) == {"count": 100, "p50": 49, "p95": 94, "max": 99}


def test_a_step_shown_before_it_is_kept_is_counted():
    noted = heard()
    noted["shown"] = [
        {"writtenAt": 5000, "paintedAt": 5008, "text": "first|1|"},
        {"writtenAt": 8000, "paintedAt": 8008, "text": "second|1|"},
    ]
    noted["saved"] = [
        {"step": 0, "activeMs": 0, "wallAt": 0, "keptAt": 4990},
        {"step": 1, "activeMs": 0, "wallAt": 0, "keptAt": 7990},
    ]
    assert timing.shown_before_kept(noted) == 0
    noted["saved"][1]["keptAt"] = 8100
    assert timing.shown_before_kept(noted) == 1

"""Bodies of entries that nearly fit their kind, or do not fit at all. A broken phone or a person could have written them.

They are seeded, so that every run has the same bodies. A whole number is never written as 2.0: JavaScript reads that as 2.
"""

import copy
import operator
import random
from collections.abc import Callable, Iterator
from typing import Any

from webapp.events.kinds import (
    ARMS,
    AWAYS,
    EASINGS,
    ENDINGS,
    EXPOSURES,
    HAPPENED,
    LEVELS,
    SEEN_BY,
    SHARP_FEELS,
    SHARP_PLACES,
    WAYS,
    WHYS,
)

UUID = "01920000-0000-7000-8000-0000000000aa"
SET = {"movement": "palm_up", "reps": 8, "load_kg": 0.5, "range": 0.75, "share": 900}
ASKED = {"sessions": 2, "sets": [{"movement": "palm_up", "reps": 8, "load_kg": 0.5, "range": 1}]}
ARM = {
    "worst": 3,
    "sharp": False,
    "sets": [SET, {**SET, "movement": "palm_down", "load_kg": 0, "range": 1}],
    "dose": ASKED,
}
FITTING: dict[str, dict[str, Any]] = {
    "session_finished": {
        "routine": 1, "arms": {"right": ARM, "left": {**ARM, "worst": None}}, "asked_steps": 9, "done_steps": 8,
        "active_seconds": 60, "ended": "sharp", "why": "", "note": "a line", "ways": ["short", "both"],
        "eased": [{"step": 3, "what": "range", "movement": "palm_up"}],
        "sharp_told": {"where": "wrist", "like": "stab", "sign": True},
    },
    "morning_reported": {"arms": {"right": {"pain": 3, "sharp": False}, "left": {"pain": 0, "besides": True}}, "late": True},
    "away_noted": {"first": "2026-05-01", "last": "2026-05-09", "what": "ill", "happened": ["fever"]},
    "exposure_noted": {"what": "sport", "minutes": 150, "name": "stage work", "begins": "18:30", "planned": True, "step": 2, "up": True, "amount": "more", "strokes": 40,
        "arms": {"right": {"worst": 3, "sharp": False}, "left": {"worst": None}}},
    "habit_noted": {"habit": "two hands", "kept": True, "suits": False, "chosen": UUID},
    "letter_written": {"text": "A letter."},
    "letter_answered": {"text": "An answer.", "by": "A name"},
    "letter_seen": {"letters": [UUID]},
    "letter_read": {"letters": []},
    "routine_received": {"version": 2, "bundle": "ab12"},
    "note_read": {"version": 2},
    "warning_raised": {"sign": "numb", "arms": ["right", "left"], "holds": True},
    "screening_answered": {"asked_list": "ab12", "reached": "soon", "signs": ["numb"]},
    "screening_cleared": {"signs": ["heart"], "reason": "Asked.", "by": "A name", "seen_by": {"role": "doctor", "on": "2024-02-29"}},
    "activities_named": {"activities": ["Lifting the kettle", ""]},
    "activity_rated": {"activity": "Turning a key", "rating": 7},
    "intake_told": {
        "arms": ["right"], "places": ["outer_elbow", "wrist_front"], "usual": 3, "activities": [{"name": "Sawing", "rating": 4}],
        "weights_kg": [0.5, 1], "sport_days": 2, "other_care": ["doctor"], "mass_kg": 70.5, "height_m": 1.75,
    },
    "intake_confirmed": {"by": "A name"},
    "intake_corrected": {"changes": [
        {"field": "area", "was": "wrist", "now": "outer_elbow"}, {"field": "arms", "was": ["right"], "now": ["right", "left"]},
        {"field": "mass_kg", "was": 82, "now": 28.5}, {"field": "sex", "was": "unsaid", "now": "male"}, {"field": "note"},
    ], "reason": "Measured again.", "by": "A name"},
    "entry_corrected": {"replaces": UUID, "body": {"arms": {}}},
    "hold_released": {"arms": {
        "right": {"rung": 2, "range": 0.75, "covers": [UUID], "reason": "Looked at.", "by": "A name", "seen_by": {"role": "doctor", "on": "2024-02-29"}},
        "left": {"rung": 1, "range": 1, "covers": [], "reason": "", "by": ""},
    }},
    "habit_chosen": {"habit": "straight_wrist", "by": "A name"},
    "course_set": {"to": "maintenance", "days_a_week": 2, "reason": "Reached.", "by": "A name"},
    "return_opened": {"ladder": "hard_grip", "step": 1, "gate": ["mornings"], "ticked": ["clinician"], "seen_by": {"role": "doctor", "on": "2024-02-29"},
        "reason": "Calm.", "by": "A name"},
    "return_ended": {"reason": "Back at the bells.", "by": "A name"},
    "something_newer": {"arms": 3},
}  # fmt: skip
NUMBERS = (-1, 0, 1, 2, 10, 11, 24, 25, 50, 51, 1000, 1001, 86_400, 86_401, 10**9, 10**9 + 1, 10**30, 0.5, 0.75, 0.751,
    1.5, -0.5, 24.5, 50.5)  # fmt: skip
WORDS = (
    *ARMS,
    *ENDINGS,
    *WHYS,
    *EASINGS,
    *WAYS,
    *SHARP_PLACES,
    *SHARP_FEELS,
    *EXPOSURES,
    *SEEN_BY,
    *AWAYS,
    *HAPPENED,
    *LEVELS,
    "18:30",
    "24:00",
    "7:05",
)
LONG = tuple("x" * (most + more) for most in (36, 64, 80, 128, 280, 1000) for more in (0, 1))
DAYS = (
    "2026-05-14",
    "2024-02-30",
    "2023-02-29",
    "2000-02-29",
    "1900-02-29",
    "2026-13-01",
    "2026-00-10",
    "2026-10-00",
    "0000-01-01",
    "0001-01-01",
    "9999-12-31",
    "2026-5-1",
    "2026-05-14\n",
    "٢٠٢٦-٠٥-١٤",
)
TEXTS = (*sorted({*WORDS}), *DAYS, "2", "Right", UUID, UUID.upper(), UUID + "\n", UUID[:-1], *LONG, "\u00e9" * 80, "\U0001f44b" * 80,
    "\U0001f44b" * 81, "\ud83d" * 80)  # fmt: skip
EASING = {"step": 3, "what": "range"}
OTHERS: tuple[Any, ...] = (None, True, False, [], {}, [[]], [None], {"right": {}}, [SET] * 20, [SET] * 21, [EASING] * 200,
    [EASING] * 201, ["short"] * 4, ["short"] * 5, ["right"] * 3, ["right", "up"], {"constructor": 1}, {"__proto__": ARM})  # fmt: skip
NAMES = ("arms", "right", "left", "up", "worst", "sharp", "sets", "pain", "share", "note", "__proto__", "toString", "")


def paths_in(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the path of every value inside a body: its keys and indices from the body inwards."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = [inner_path for key, entry in inner for inner_path in paths_in(entry, (*path, key))]
    return [path, *found] if path else found


def changed(body: Any, path: tuple[Any, ...], act: Callable[[Any, Any], None]) -> Any:
    """Return a copy of a body with a change at one path. `act` makes the change: it gets the container and the key."""
    body = copy.deepcopy(body)
    holder = body
    for key in path[:-1]:
        holder = holder[key]
    act(holder, path[-1])
    return body


def put(value: Any) -> Callable[[Any, Any], None]:
    """Return a change that sets another value."""
    return lambda holder, key: operator.setitem(holder, key, copy.deepcopy(value))


def one_fault_each() -> Iterator[tuple[str, Any]]:
    """Yield for every kind the fitting body, and that body with each value deleted or replaced by each other value."""
    for kind, body in FITTING.items():
        yield kind, body
        for path in paths_in(body):
            yield kind, changed(body, path, operator.delitem)
            for value in (*NUMBERS, *TEXTS, *OTHERS):
                yield kind, changed(body, path, put(value))


def many_faults(seed: int, count: int) -> Iterator[tuple[str, Any]]:
    """Yield `count` bodies of every kind with two to four values replaced or added."""
    dice = random.Random(seed)  # noqa: S311 - dice for invented bodies, not a secret
    for kind, body in FITTING.items():
        for _ in range(count):
            odd = body
            for _ in range(dice.choice((2, 2, 3, 4))):
                paths = paths_in(odd) or [(dice.choice(NAMES),)]
                name, value = dice.choice(NAMES), dice.choice((*NUMBERS, *TEXTS, *OTHERS))
                *way, last = dice.choice(paths)
                path = (*way, name) if isinstance(last, str) and dice.random() < 0.2 else (*way, last)
                odd = changed(odd, path, put(value))
            yield kind, odd

"""Logs that no phone should write, but that a phone will write some day. They are seeded, so that every run has the same logs.

They have corrections of all sorts, bodies that do not fit, counters that run behind, releases that cover only half of what
they must, and weeks without an entry.
"""

import random
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from tests.js.plain_fold import sharp_entries

FIRST = date(2026, 3, 2)
ARMS = ("right", "left")
MOVEMENTS = ("palm_up", "palm_down", "thumb_up", "thumb_down")
MISFITS: tuple[tuple[str, Any], ...] = (
    ("morning_reported", {"arms": {}}),
    ("morning_reported", {"arms": {"right": {"pain": 99}}}),
    ("morning_reported", {"arms": {"right": {"pain": "9"}, "left": {"pain": 9}}}),
    ("morning_reported", {"arms": {"up": {"pain": 9}, "right": {"pain": 9}}}),
    ("morning_reported", {"arms": {"right": {"pain": 9, "sharp": None}}}),
    ("morning_reported", {"arms": [{"pain": 9}]}),
    ("session_finished", {"arms": {"right": {"worst": 9, "sharp": True, "sets": []}}}),
    ("warning_raised", {"sign": "numb", "arms": []}),
    ("warning_raised", {"sign": "numb", "arms": ["right", "up"]}),
    ("warning_raised", {"sign": "x" * 81, "arms": ["right"]}),
    ("warning_raised", {"sign": "numb", "arms": ["right"], "holds": None}),
    ("hold_released", {"arms": {"right": {"rung": 1, "range": 0.6, "covers": [], "reason": "", "by": ""}}}),
    ("hold_released", {"arms": {"right": {"rung": 1, "covers": [], "reason": "", "by": ""}}}),
    ("routine_received", {"version": "2"}),
)
ODD_BODIES = tuple(body for _, body in MISFITS)
SPOILED_SETS = ("missing", {"reps": 1.5}, {"share": 1001}, {"load_kg": 51}, {"range": True}, {"movement": None})
MOODS = {"calm": (0, 3, 0, 2), "aching": (3, 5, 0, 3), "sore": (2, 6, 1, 5), "wild": (0, 10, 0, 10)}


@dataclass
class Log:
    """A log in the making.

    Attributes:
        events: As on the wire, in the order in which they were made.
        misfits: The ids of the events whose body does not fit their kind; the writer knows which it made so.
        fixes: The ids of the corrections that may replace or withdraw their target; the writer knows these too.
        pushed_on: The day on which the second routine came, or None.
    """

    events: list[dict[str, Any]] = field(default_factory=list)
    misfits: set[str] = field(default_factory=set)
    fixes: set[str] = field(default_factory=set)
    pushed_on: date | None = None

    def add(self, kind: str, on: date, body: Any, seq: int, *, fits: bool = True, hours: int = 0) -> None:
        """Put an event in, under an id of its own; the clock by which it was made runs so many hours wrong."""
        id_ = f"01920000-0000-7000-8000-{len(self.events):012x}"
        plain = {
            "id": id_,
            "kind": kind,
            "v": 1,
            "on": on.isoformat(),
            "at": f"{datetime(on.year, on.month, on.day, 7, tzinfo=UTC) + timedelta(hours=hours):%Y-%m-%dT%H:%M:%SZ}",
            "zone": "Europe/Lisbon",
        }
        self.events.append({**plain, "seq": seq, "body": body})
        if not fits:
            self.misfits.add(id_)


class Writer:
    """Writes one hostile log."""

    def __init__(self, seed: int, length: int) -> None:
        self.dice = random.Random(seed)  # noqa: S311 - dice for invented diaries, not a secret
        self.length, self.log = length, Log()
        self.sport_dice = random.Random(seed + 1_000_000)  # noqa: S311 - as above

    def seq(self) -> int:
        """Return the counter of a device; sometimes it runs behind."""
        count = len(self.log.events) + 1
        return count if self.dice.random() < 0.8 else self.dice.randint(1, count)

    def put(self, kind: str, on: date, body: Any, *, fits: bool = True, hours: int = 0) -> None:
        """Put an event in."""
        self.log.add(kind, on, body, self.seq(), fits=fits, hours=hours)

    def write(self) -> Log:
        """Write days of changing moods; some days have no entry."""
        dice = self.dice
        on = FIRST - timedelta(dice.choice((0, 0, 3)))
        self.put("routine_received", FIRST, {"version": 1})
        while on < FIRST + timedelta(self.length):
            mood = dice.choice(("calm", "calm", "aching", "sore", "wild", "away"))
            for _ in range(dice.choice((1, 4, 9, 12)) if mood != "away" else dice.choice((2, 3, 7, 14, 15, 29))):
                self.day(on, mood)
                on += timedelta(1)
        return self.log

    def day(self, on: date, mood: str) -> None:
        """Write the entries of one day."""
        if mood != "away":
            for _ in range(self.dice.choice((0, 1, 1, 1, 1, 1, 2, 3))):
                self.session(on, MOODS[mood])
        if self.dice.random() < (0.85 if mood != "away" else 0.3):
            self.morning(on, MOODS.get(mood, MOODS["calm"]))
        if self.sport_dice.random() < 0.15:
            self.sport(on, MOODS.get(mood, MOODS["calm"]))
        for chance, act in ((0.05, self.correct), (0.05, self.misfit), (0.02, self.odd), (0.01, self.push)):
            if self.dice.random() < chance:
                act(on)

    def arms(self) -> tuple[str, ...]:
        """Return the arms that an entry is about."""
        return self.dice.choice((ARMS, ARMS, ("right",), ("left",)))

    def played(self, mood: tuple[int, ...]) -> dict[str, Any]:
        """Return a session's report of one arm."""
        dice = self.dice
        share, reps = dice.choice((1000, 1000, 1000, 900, 800, 799, 400, 0)), dice.choice((8, 8, 8, 8, 1, 0))
        sets = [
            {"movement": movement, "reps": reps, "load_kg": 0.5, "range": 1, "share": share} for movement in MOVEMENTS
        ]
        if dice.random() < 0.1:
            sets[dice.randrange(4)] |= {"share": dice.choice((799, 800, 1000)), "reps": dice.choice((0, 5))}
        worst = None if dice.random() < 0.1 else dice.randint(*mood[:2])
        report: dict[str, Any] = {"worst": worst, "sets": sets[: dice.choice((4, 4, 4, 2, 0))]}
        return report if dice.random() < 0.3 else {**report, "sharp": dice.random() < 0.01}

    def session_body(self, mood: tuple[int, ...]) -> dict[str, Any]:
        """A session that fits its kind."""
        done = {"asked_steps": 9, "done_steps": 9, "active_seconds": 60, "ended": "completed"}
        ways = {"ways": ["before_sport"]} if self.dice.random() < 0.1 else {}
        return {"routine": 1, "arms": {arm: self.played(mood) for arm in self.arms()}, **done, **ways}

    def session(self, on: date, mood: tuple[int, ...]) -> None:
        """Write a session; sometimes one set is impossible."""
        body = self.session_body(mood)
        spoiled = self.dice.choice(SPOILED_SETS) if self.dice.random() < 0.04 else None
        arm = next(iter(body["arms"].values()))
        if spoiled == "missing":
            del arm["sets"]
        elif spoiled is not None:
            arm["sets"] = [{"movement": "palm_up", "reps": 8, "load_kg": 0.5, "range": 1, "share": 1000, **spoiled}]
        self.put("session_finished", on, body, fits=spoiled is None)

    def morning_body(self, mood: tuple[int, ...]) -> dict[str, Any]:
        """A morning report that fits its kind."""
        return {
            "arms": {
                arm: {"pain": self.dice.randint(*mood[2:]), "sharp": self.dice.random() < 0.01} for arm in self.arms()
            }
        }

    def morning(self, on: date, mood: tuple[int, ...]) -> None:
        """Write a morning report, or sometimes two."""
        for _ in range(self.dice.choice((1, 1, 1, 2))):
            self.put("morning_reported", on, self.morning_body(mood))

    def sport(self, on: date, mood: tuple[int, ...]) -> None:
        """Write sport on the way back: sometimes not rated, of one arm only, too long, or without a step, which is other sport."""
        dice = self.sport_dice
        arms = dice.choice((ARMS, ARMS, ARMS, ("left",), ()))
        felt = {
            arm: {"worst": None if dice.random() < 0.1 else dice.randint(*mood[:2]), "sharp": dice.random() < 0.005}
            for arm in arms
        }
        body: dict[str, Any] = {"what": "sport", "minutes": dice.choice((5, 5, 8, 40, None)), "name": "bells"}
        body |= {"step": dice.randint(1, 7), "up": dice.random() < 0.3, "arms": felt} if dice.random() < 0.9 else {}
        body |= {"amount": dice.choice(("fewer", "asked", "more"))} if dice.random() < 0.3 else {}
        body |= {"strokes": dice.choice((10, 45))} if dice.random() < 0.3 else {}
        is_spoiled = dice.random() < 0.03
        self.put("exposure_noted", on, {**body, "step": 0, "arms": felt} if is_spoiled else body, fits=not is_spoiled)

    def misfit(self, on: date) -> None:
        """An entry that does not fit its kind."""
        kind, body = self.dice.choice(MISFITS)
        self.put(kind, on, body, fits=False)

    def odd(self, on: date) -> None:
        """Write an entry that does not change a dose, or a warning sign, which may."""
        warned = {
            "sign": "numb",
            "arms": list(self.arms()),
            **self.dice.choice(({}, {"holds": False}, {"holds": True})),
        }
        bodies = {"warning_raised": warned, "something_newer": {"arms": 3}, "routine_received": {"version": 77}}
        kind = self.dice.choice(tuple(bodies))
        self.put(kind, on, bodies[kind])

    def push(self, on: date) -> None:
        """A newer routine comes to the phone."""
        if on > FIRST:
            self.put("routine_received", on, {"version": 2})
            self.log.pushed_on = self.log.pushed_on or on

    def correct(self, on: date) -> None:
        """Correct one of the last entries: with a body of its kind, with a body that does not fit, or with none (a withdrawal)."""
        dice = self.dice
        target = dice.choice(self.log.events[-12:])
        own = {"session_finished": self.session_body, "morning_reported": self.morning_body}.get(target["kind"])
        body = (
            own(MOODS[dice.choice(tuple(MOODS))]) if own and dice.random() < 0.6 else dice.choice((None, *ODD_BODIES))
        )
        is_left_out = body is None and dice.random() < 0.5
        fix = {"replaces": target["id"], **({} if is_left_out else {"body": body})}
        # Now and then a clock was set back to the entry's day or before it, or only the instant is false.
        is_false = self.sport_dice.random() < 0.3
        named = date.fromisoformat(target["on"]) - timedelta(self.sport_dice.choice((0, 0, 1))) if is_false else on
        self.put("entry_corrected", named, fix, hours=self.sport_dice.choice((0, 0, -2, 30, 40)))
        if body is None or (own and body not in ODD_BODIES):
            self.log.fixes.add(self.log.events[-1]["id"])

    def release(self, arm: str, on: date, sharp: dict[str, date]) -> None:
        """Write a release that covers the sharp entries before its day; sometimes it misses one."""
        dice = self.dice
        covers = sorted(id_ for id_, day in sharp.items() if day < on or dice.random() < 0.2)
        if covers and dice.random() < 0.15:
            covers.remove(dice.choice(covers))
        release = {"rung": dice.choice((1, 2, 3, 5, 8, 1000)), "range": dice.choice((1, 0.75, 0.5)), "covers": covers}
        release |= {"reason": "", "by": ""}
        self.put("hold_released", on, {"arms": {arm: release}})


def hostile_log(seed: int, length: int) -> Log:
    """Write one log of about `length` days; its releases follow days with sharp pain."""
    writer = Writer(seed, length)
    log = writer.write()
    for arm in ARMS:
        sharp = sharp_entries(log, arm)
        days = sorted(set(sharp.values()))
        for day in writer.dice.sample(days, min(len(days), 6)):
            for _ in range(writer.dice.choice((0, 1, 1, 2))):
                writer.release(arm, day + timedelta(writer.dice.choice((1, 1, 2, 3))), sharp)
    return log

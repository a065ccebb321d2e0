"""What the words of a reason promise: a table of phrases, each with a change or with something that must hold.

A phrase of the first table promises a change of the arm from one day to the next; a phrase of the second says what must
be true of the day that is closed. A sentence is read by looking for every phrase in it.
"""

import re
from collections.abc import Callable
from typing import NamedTuple

from webapp.dosing.closing import close_day
from webapp.dosing.dose import Dose
from webapp.dosing.plan import Plan
from webapp.dosing.responses import IDLE
from webapp.dosing.rules import TENDER, WORSE
from webapp.dosing.state import State

MOST_WAITING = 21
"""Settled days: seven that are owed after a stop, and the fourteen of the slowest step."""
RISES = ("widen", "climb", "pace", "first-week-fuller", "first-week-grows")


class Turn(NamedTuple):
    """One day closed: where the arm stood, how the day went, where it stands, and the two doses."""

    plan: Plan
    before: State
    response: str
    after: State
    dose_before: Dose
    asks: Dose


class Change(NamedTuple):
    """What is promised of an arm: steps of the ladder, steps of ease, the mode, what its sessions become."""

    rung: int = 0
    ease: int = 0
    mode: str = ""
    sessions: str = ""


SAME = Change()
CHANGES: dict[str, Change] = {
    r"one step up|one rung up": Change(rung=1),
    r"one step down|one step lower|one rung down": Change(rung=-1),
    r"two steps down|two rungs down": Change(rung=-2),
    r"further down": Change(sessions="lower"),
    r"down to the lowest": Change(sessions="lowest"),
    r"movements (get|are) smaller|range is eased one step": Change(ease=1),
    r"a step bigger|one step of range given back": Change(ease=-1),
    r"it rests|the arm rests|rests on|rest\.|: rest,|rest goes on|asked to be seen": Change(mode="resting"),
    r"the arm stops|so it stops|still stopped|held until|still held": Change(mode="held"),
    r"starts again|training again": Change(mode="training"),
    r"sets that are still short get more reps": Change(sessions="longer"),
    r"short sessions get more reps": Change(sessions="fuller"),
    r"has one session": Change(sessions="one"),
    r"itself( it)? changes nothing|nothing changes by itself|carry on where|goes on as before": SAME,
    r"nothing goes up|nothing rises|counted from the beginning|the day counts|next step": SAME,
    r"on the highest (step|rung)|you set each rung": SAME,
}


def _sore_days(turn: Turn) -> int:
    return turn.before.tender_days + 1


def _gap_days(turn: Turn) -> int:
    return turn.before.gap_days + 1 if turn.response in IDLE else 0


def _is_at_the_lowest(turn: Turn) -> bool:
    return (turn.before.rung, turn.before.ease) == (1, 2)


def _is_raised_soon(turn: Turn) -> bool:
    """Say whether enough settled days in a row bring a wider range, a rung, or longer sets."""
    state = turn.after
    for _ in range(MOST_WAITING):
        state, reasons = close_day(turn.plan, state, "settled")
        if reasons[0] in RISES:
            return True
    return False


TRUTHS: dict[str, Callable[[Turn], bool]] = {
    r"flared": lambda turn: turn.response in ("flared", "flared_idle"),
    r"sharp pain": lambda turn: turn.response == "sharp",
    r"still (stopped|held)": lambda turn: turn.before.mode == "held",
    r"\bsore\b|tender": lambda turn: turn.response in TENDER,
    r"more than three days": lambda turn: _sore_days(turn) > 3,
    r"up to three days": lambda turn: _sore_days(turn) <= 3,
    r"on seven days": lambda turn: _sore_days(turn) >= 7,
    r"settled( yet|,| after|:)|third day of rest": lambda turn: turn.response in (*WORSE, "settled"),
    r"not settled": lambda turn: turn.response in WORSE,
    r"after days of rest|third day of rest or a later": lambda turn: turn.before.rest_days >= 2,
    r"six days of rest": lambda turn: turn.before.rest_days == 6,
    r"rest (is|was) over": lambda turn: turn.before.mode == "resting",
    r"lowest (step there is|dose)|at the lowest": _is_at_the_lowest,
    r"small as they get|at half range": lambda turn: turn.before.ease == 2,
    r"ached": lambda turn: turn.response in ("aching", "aching_untold"),
    r"not count as a good one|not a settled day": lambda turn: turn.after.settled_streak <= max(0, turn.before.settled_streak),
    r"number is missing|not rated": lambda turn: turn.response == "unreported",
    r"part of the work|less than enough": lambda turn: turn.response == "partly",
    r"(a|enough) good day|^settled|enough settled": lambda turn: turn.response == "settled",
    r"enough (good|settled)": lambda turn: turn.before.settled_streak + 1 >= 3,
    r"last steps went well|two clean climbs": lambda turn: turn.before.pace == 2,
    r"to a heavier weight": lambda turn: turn.asks.sets[0].load_kg > turn.dose_before.sets[0].load_kg,
    r"bring the next step": _is_raised_soon,
    r"seven good days must|seven needed": lambda turn: -7 < turn.before.settled_streak < 0,
    r"practitioner sets each|you set each": lambda turn: turn.plan.client.usual >= 4,
    r"on the highest": lambda turn: turn.after.rung == turn.plan.ladder.top and not turn.after.ease,
    r"first week is over": lambda turn: turn.before.first_week_day == 7 and turn.after.first_week_day == 0,
    r"a day or two without": lambda turn: _gap_days(turn) in (1, 2),
    r"(a few days|three days or more) without": lambda turn: _gap_days(turn) >= 3,
    r"a week without": lambda turn: _gap_days(turn) == 7,
    r"two weeks without": lambda turn: _gap_days(turn) == 14,
    r"four weeks without": lambda turn: _gap_days(turn) == 28,
    r"counted from the beginning": lambda turn: turn.after.settled_streak <= min(0, turn.before.settled_streak + 1),
}  # fmt: skip


def promised(sentence: str) -> list[Change]:
    """List the changes that a sentence promises, `SAME` among them."""
    return [change for phrase, change in CHANGES.items() if re.search(phrase, sentence.lower())]


def claims(sentence: str) -> dict[str, Callable[[Turn], bool]]:
    """Return what a sentence says of the day that is closed, by the phrase that says it."""
    return {phrase: holds for phrase, holds in TRUTHS.items() if re.search(phrase, sentence.lower())}


def broken(turn: Turn, changes: list[Change]) -> str:
    """Name the first promise that a day does not keep, or the change that nothing promised; "" where all is true."""
    before, after = turn.before, turn.after
    modes = {change.mode for change in changes if change.mode} or {before.mode}
    if modes != {after.mode}:
        return "mode"
    if sum(change.ease for change in changes) != after.ease - before.ease:
        return "ease"
    left = after.rung - before.rung - sum(change.rung for change in changes)
    words = {change.sessions for change in changes if change.sessions}
    is_down = words & {"lower", "lowest"}
    if (left >= 0) if is_down else left:
        return "rung"
    if "lowest" in words and after.rung != 1:
        return "lowest"
    return _sessions_broken(turn, words) or _dose_broken(turn, changes)


def _sessions_broken(turn: Turn, words: set[str]) -> str:
    whole = turn.plan.ladder.rung(turn.before.rung).count.reps
    is_short = turn.dose_before.sets and turn.dose_before.sets[0].reps < whole
    if "longer" in words and is_short and not _are_sets_longer(turn):
        return "longer"
    if "fuller" in words and not (_are_sets_longer(turn) and turn.asks.sessions > 1):
        return "fuller"
    if "one" in words and (turn.before.first_week_stage not in (1, 2) or turn.after.first_week_stage in (1, 2)):
        return "one session"
    return ""


def _are_sets_longer(turn: Turn) -> bool:
    pairs = [(was.reps, now.reps) for was, now in zip(turn.dose_before.sets, turn.asks.sets, strict=True)]
    return all(now >= was for was, now in pairs) and any(now > was for was, now in pairs)


def _dose_broken(turn: Turn, changes: list[Change]) -> str:
    """Where no change is promised, the sessions and every set must be the same."""
    is_training = turn.before.mode == turn.after.mode == "training"
    if not is_training or any(change != SAME for change in changes):
        return ""
    is_same = (turn.dose_before.sessions, turn.dose_before.sets) == (turn.asks.sessions, turn.asks.sets)
    return "" if is_same else "the dose"

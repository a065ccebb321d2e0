"""The rules of a return ladder, in two tables read from the top: the first row that fits decides.

A day on a ladder is read as what sport there was (`OUTINGS`) and how it felt (`FEELS`). How it felt comes from the same table of classes as
for the exercises, with the worst in sport for the worst in the session. The id of a rule is also the key of the reason that a person reads.
"""

from collections.abc import Callable
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.returning.go import AWAY, CALM_MORNINGS, MOST_A_WEEK, OPEN, REST_DAYS, RESTING, STOPPED, WAITING, Go

NO_SPORT, COUNTED, UNCOUNTED, STEPPED_UP, BEFORE, FEWER = "none", "counted", "uncounted", "up", "before", "fewer"
OUTINGS = (NO_SPORT, COUNTED, UNCOUNTED, STEPPED_UP, BEFORE, FEWER)
"""No sport; within the step; more than the step or on a day that did not allow it; the first outing of the next step; a day before the first;
less than four fifths of the step."""
FEELS = ("calm", "untold", "aching", "aching_untold", "sore", "flared", "sharp")
"""calm: nothing against it; untold: a number is missing; aching: over the ceiling, the morning calm; sore: a morning that is not calm."""
FEEL_OF = {
    "settled": "calm",
    "unreported": "untold",
    "aching": "aching",
    "aching_untold": "aching_untold",
    "tender": "sore",
    "tender_over": "sore",
    "sore": "sore",
    "flared": "flared",
    "flared_idle": "flared",
    "sharp": "sharp",
}
"""How a day felt, by the class that its sport and its morning have."""
FLARES = ("flared", "sharp")
RAISES = ("widen", "climb", "pace", "first-week-fuller", "first-week-grows", "first-week-together", "own-hand")
"""The rules of the exercises after which no step goes up for 72 hours."""
STAYS, TWO_BACK, ONE_BACK, HALF_WAY, TO_FIRST = "stays", "two_back", "one_back", "half_way", "first"
MOVES: dict[str, Callable[[int], int]] = {
    STAYS: lambda step: step,
    TWO_BACK: lambda step: max(1, step - 2),
    ONE_BACK: lambda step: max(1, step - 1),
    HALF_WAY: lambda step: 1 + (step - 1) // 2,
    TO_FIRST: lambda _: 1,
}
"""Where a rule moves a step."""


class ReturnRule(NamedTuple):
    """One row: in these modes, after this sport that felt so, where the condition holds (the go, whether a flare still counts, the limit).

    `then` returns the go that follows, and `move` names, of `MOVES`, what becomes of the step. `basis` is a key of content/sources.toml.
    """

    id: str
    modes: tuple[str, ...]
    outings: tuple[str, ...]
    feels: tuple[str, ...]
    condition: str
    holds: Callable[[Go, bool, int], bool]
    effect: str
    then: Callable[[Go], Go]
    move: str = STAYS
    basis: str = "own-choice"
    limit: int = 0


class Absence(NamedTuple):
    """What so many days in a row without sport do: where the step moves, and whether the ladder ends."""

    id: str
    days: int
    move: str
    ends: bool
    effect: str
    basis: str = "own-choice"


def _always(_go: Go, _again: bool, _limit: int) -> bool:
    return True


def _again(_go: Go, again: bool, _limit: int) -> bool:
    return again


def _last_try(go: Go, _again: bool, limit: int) -> bool:
    return go.fails + 1 >= limit


def _rest_ends(go: Go, _again: bool, _limit: int) -> bool:
    return go.calm + 1 >= CALM_MORNINGS and go.rest + 1 >= REST_DAYS


def _same(go: Go) -> Go:
    return go


def _stopped(_go: Go) -> Go:
    return Go(STOPPED)


def _rests(go: Go) -> Go:
    return Go(RESTING, fails=go.fails + 1)


def _rests_anew(go: Go) -> Go:
    return Go(RESTING, fails=go.fails)


def _rested_on(go: Go) -> Go:
    return go._replace(calm=0, rest=min(REST_DAYS, go.rest + 1))


def _rested_calm(go: Go) -> Go:
    return go._replace(calm=min(CALM_MORNINGS, go.calm + 1), rest=min(REST_DAYS, go.rest + 1))


def _opens(go: Go) -> Go:
    return Go(OPEN, fails=go.fails)


def _goes_on(go: Go) -> Go:
    return go._replace(mode=OPEN)


def _waits(go: Go) -> Go:
    return go._replace(mode=WAITING)


def _again_open(go: Go) -> Go:
    return Go(OPEN, fails=go.fails + 1)


def _again_waiting(go: Go) -> Go:
    return Go(WAITING, fails=go.fails + 1)


def _settled(go: Go) -> Go:
    return go._replace(mode=OPEN, settled=min(MOST_A_WEEK, go.settled + 1))


_OVER, _ON, _RESTS = (STOPPED, AWAY), (OPEN, WAITING), (RESTING,)
_SPORT, _NONE = (COUNTED, UNCOUNTED, STEPPED_UP, FEWER), (NO_SPORT, BEFORE)
_BAD, _SORE, _ACHES, _UNTOLD = (
    ("flared", "sharp"),
    ("aching", "aching_untold", "sore"),
    ("calm", "aching"),
    ("untold", "aching_untold"),
)
_TRIES = int(figures.RETURN_TRIES.value)

RETURN_RULES: tuple[ReturnRule, ...] = (
    ReturnRule("return-over", _OVER, OUTINGS, FEELS, "always", _always, "nothing changes until the practitioner opens it anew", _same),
    ReturnRule("return-second-flare", _ON, OUTINGS, _BAD, "another flare in the last 28 days", _again,
               "the ladder stops; the practitioner is told, a clinician is to look", _stopped),
    ReturnRule("return-third-flare", _ON, OUTINGS, _BAD, "this go would be the third to fail since a step was passed", _last_try,
               "the ladder stops; the practitioner is told, a clinician is to look", _stopped, limit=_TRIES),
    ReturnRule("return-third-try", _ON, _SPORT, _SORE, "this go would be the third to fail since a step was passed", _last_try,
               "the ladder stops; the practitioner is told, a clinician is to look", _stopped, limit=_TRIES),
    ReturnRule("return-sharp", _ON, OUTINGS, ("sharp",), "always", _always,
               "no sport: the exercises' hold first, then the rest after a flare, then the first step", _rests, TO_FIRST),
    ReturnRule("return-sharp-again", _RESTS, OUTINGS, ("sharp",), "always", _always, "the rest begins anew; then the first step",
               _rests_anew, TO_FIRST),
    ReturnRule("return-flare", _ON, OUTINGS, ("flared",), "always", _always,
               "no sport until three calm mornings in a row and five days are over; then two steps back", _rests, TWO_BACK),
    ReturnRule("return-flares-on", _RESTS, OUTINGS, ("flared",), "always", _always, "the rest begins anew", _rests_anew),
    ReturnRule("return-not-yet", _RESTS, _SPORT, FEELS, "always", _always, "the rest begins anew", _rests_anew),
    ReturnRule("return-rested", _RESTS, _NONE, _ACHES, "the third calm morning in a row, and five days are over", _rest_ends,
               "sport is possible again", _opens),
    ReturnRule("return-rest-calm", _RESTS, _NONE, _ACHES, "always", _always, "rest goes on; the morning counts", _rested_calm),
    ReturnRule("return-rest", _RESTS, _NONE, FEELS, "always", _always, "rest goes on; calm mornings are counted anew", _rested_on),
    ReturnRule("return-tender", _ON, _SPORT, ("sore",), "always", _always, "the same step again, after a calm morning", _again_waiting),
    ReturnRule("return-ache", _ON, _SPORT, ("aching",), "always", _always, "the same step again", _again_open),
    ReturnRule("return-ache-untold", _ON, _SPORT, ("aching_untold",), "always", _always,
               "the same step again, after a calm morning", _again_waiting),
    ReturnRule("return-untold", _ON, _SPORT, ("untold",), "always", _always, "it does not count; sport waits for a calm morning", _waits),
    ReturnRule("return-settled", _ON, (COUNTED, STEPPED_UP), ("calm",), "always", _always, "it counts towards the next step", _settled),
    ReturnRule("return-more", _ON, (UNCOUNTED,), ("calm",), "always", _always,
               "it does not count: more than the step, or on a day that did not allow it", _goes_on),
    ReturnRule("return-fewer", _ON, (FEWER,), ("calm",), "always", _always, "it does not count: less than the step asks", _goes_on),
    ReturnRule("return-calm", (WAITING,), _NONE, _ACHES, "always", _always, "sport is possible again", _goes_on),
    ReturnRule("return-wait", _ON, _NONE, ("sore",), "always", _always, "sport waits for a calm morning", _waits),
    ReturnRule("return-first-morning", _ON, (BEFORE,), _UNTOLD, "always", _always, "the first sport waits for a calm morning", _waits),
    ReturnRule("return-start", _ON, (BEFORE,), FEELS, "always", _always, "the first step", _same),
    ReturnRule("return-stay", _ON, _NONE, FEELS, "always", _always, "the same step", _same),
)  # fmt: skip

ABSENCES: tuple[Absence, ...] = (
    Absence("return-away-one", int(figures.RETURN_AWAY_ONE.value), ONE_BACK, False, "one step back"),
    Absence("return-away-half", int(figures.RETURN_AWAY_HALF.value), HALF_WAY, False, "half of the way down"),
    Absence("return-away-gate", int(figures.RETURN_AWAY_GATE.value), STAYS, True, "the ladder ends; the gate again"),
)

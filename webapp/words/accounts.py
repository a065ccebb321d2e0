"""A closed day told in full: how it was classed and by which numbers, what rule followed, what changed.

May know the ids of the core's tables and the numbers a day carries; decides nothing.
"""

from collections.abc import Mapping

from webapp.dosing import figures
from webapp.dosing.course import DayAccount
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.words.amounts import range_text
from webapp.words.catalogue import Words, mark
from webapp.words.reasons import mode_text

CLASSED_BY = {
    "sharp-told": mark("sharp pain or a warning sign was reported"),
    "sharp-during": mark("the session was rated %(during)s; %(sharp)s and over counts as sharp"),
    "sharp-morning": mark("the next morning was rated %(morning)s; %(sharp)s and over counts as sharp"),
    "flared-during": mark("the session was rated %(during)s; %(flared)s and over counts as flared"),
    "flared-morning": mark("the next morning was rated %(morning)s; %(flared)s and over counts as flared"),
    "flared-rise": mark(
        "the next morning was rated %(morning)s after %(before)s: up by %(rise)s or more, above the usual %(usual)s"
    ),
    "no-session": mark("no session was done"),
    "no-report": mark("a session, and no report the next morning"),
    "calm": mark("the session was rated %(during)s (at most %(ceiling)s) and the next morning %(morning)s (at most %(calm)s)"),
    "tender-unrated": mark("the session was not rated, so it cannot count as settled"),
    "tender-during": mark("the session was rated %(during)s, over %(ceiling)s"),
    "tender-morning": mark("the next morning was rated %(morning)s, over %(calm)s"),
}  # fmt: skip

CLASS_WORDS = {
    "settled": mark("Settled"),
    "tender": mark("Tender"),
    "flared": mark("Flared"),
    "sharp": mark("Sharp"),
    "unreported": mark("Unreported"),
    "missed": mark("Missed"),
}

RUNG = mark("rung %(rung)s of %(top)s")
STREAKS = (mark("%(n)d settled day"), mark("%(n)d settled days"))
TENDER = (mark("%(n)d tender day"), mark("%(n)d tender days"))
GAPS = (mark("%(n)d day missed"), mark("%(n)d days missed"))
FIRST_WEEK = mark("day %(day)s of the first week")
FAST = mark("faster pace")


def numbers_of(account: DayAccount, plan: Plan) -> Mapping[str, int]:
    """Give every number that a sentence of `CLASSED_BY` may name; a rating that is not known is left out."""
    usual = plan.client.usual
    known = {
        "during": account.facts.during,
        "morning": account.facts.morning,
        "before": usual if account.before is None else account.before,
        "usual": usual,
        "ceiling": plan.tuning.settled_during,
        "calm": max(int(figures.SETTLED_MORNING.value), usual),
        "sharp": int(figures.SHARP_RATING.value),
        "flared": int(figures.FLARED_RATING.value),
        "rise": int(figures.FLARED_RISE.value),
    }
    return {name: number for name, number in known.items() if number is not None}


def classed_text(words: Words, account: DayAccount, plan: Plan) -> str:
    """Say why a day was classed as it was, with the numbers that decided."""
    return words.say(CLASSED_BY[account.classed_by], **numbers_of(account, plan))


def state_text(words: Words, state: State, top: int) -> str:
    """Tell a state in one line: rung, range, mode, and the counts that are not nothing."""
    parts = [words.say(RUNG, rung=state.rung, top=top)]
    if state.ease:
        parts.append(range_text(words, figures.RANGE_BY_EASE[state.ease].value))
    if state.mode != "training":
        parts.append(mode_text(words, state.mode).lower())
    counts = ((STREAKS, state.settled_streak), (TENDER, state.tender_days), (GAPS, state.gap_days))
    parts += [words.plural(*forms, number) for forms, number in counts if number]
    if state.first_week_day:
        parts.append(words.say(FIRST_WEEK, day=state.first_week_day))
    if state.pace > 1:
        parts.append(words.say(FAST))
    return ", ".join(parts)


def class_word(words: Words, response: str) -> str:
    """Give the core's word for how a day went, as the start of a sentence."""
    return words.say(CLASS_WORDS[response])

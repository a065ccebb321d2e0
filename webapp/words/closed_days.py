"""A closed day in words: how it was classed and by which numbers, which rule followed, and what changed.

May know the ids of the core's tables and the numbers a day carries; decides nothing.
"""

from collections.abc import Mapping

from webapp.dosing import figures
from webapp.dosing.course import ClosedDay
from webapp.dosing.plan import Plan
from webapp.dosing.responses import ENOUGH, SHOWN, calm_limit, sore_limit
from webapp.dosing.state import State
from webapp.words.amounts import range_text
from webapp.words.catalogue import Words, mark, mark_plural
from webapp.words.reasons import mode_text

CLASSED_BY = {
    "sharp-told": mark("sharp pain or a warning sign was reported"),
    "sharp-during": mark("the session was rated %(during)s; %(sharp)s and over counts as sharp"),
    "sharp-morning": mark("the next morning was rated %(morning)s; %(sharp)s and over counts as sharp"),
    "flared-during": mark("the session was rated %(during)s; %(flared)s and over counts as flared"),
    "flared-morning": mark("the next morning was rated %(morning)s; %(flared)s and over counts as flared"),
    "flared-rise": mark(
        "the next morning was rated %(morning)s, and the lowest known of the three mornings before was "
        "%(before)s: a rise of %(rise)s or more, and above the usual %(usual)s"
    ),
    "flared-over-usual": mark("the next morning was rated %(morning)s, over the usual %(usual)s by %(over)s or more"),
    "sore": mark("no session was done, and the next morning was rated %(morning)s, over %(sore)s"),
    "no-session": mark("no session was done"),
    "no-report": mark("a session, and no report the next morning"),
    "not-rated": mark("a session was not rated, so the day cannot count as settled"),
    "calm": mark("enough of it was done, the session was rated %(during)s (at most %(ceiling)s) "
                 "and the next morning %(morning)s (at most %(calm)s)"),
    "part-done": mark("all was calm, but in some direction less than %(enough)s per cent was done"),
    "aching": mark("the session was rated %(during)s, over %(ceiling)s, and the next morning was calm"),
    "aching-untold": mark("the session was rated %(during)s, over %(ceiling)s, and there was no report the next morning"),
    "tender-over": mark("the next morning was rated %(morning)s, over %(sore)s"),
    "tender-morning": mark("the next morning was rated %(morning)s, over %(calm)s"),
}  # fmt: skip

FLARED_RISE_OVER_USUAL = mark(
    "the next morning was rated %(morning)s, over the usual %(usual)s by %(rise)s or more; no earlier morning is known"
)
"""Used instead of the sentence of "flared-rise" where no earlier morning is known: the usual morning stands for them."""
NEAR_SPORT = mark("all was calm; near sport on the way back no day counts towards a larger dose")
"""Used instead of the sentence of "part-done" where enough was done, but sport of the way back was near."""
UNASKED = mark("all was calm; a session on a day that asks for none counts as done in part")
"""Used instead of the sentence of "part-done" on a day of rest or a day held."""

CLASS_WORDS = {
    "settled": mark("Settled"),
    "partly": mark("Partly"),
    "unreported": mark("Number missing"),
    "aching": mark("Aching"),
    "tender": mark("Tender"),
    "sore": mark("Sore"),
    "flared": mark("Flared"),
    "sharp": mark("Sharp"),
    "missed": mark("No session"),
}

RUNG = mark("rung %(rung)s of %(top)s")
STREAKS = mark_plural("%(n)d settled day", "%(n)d settled days")
OWED = mark_plural("%(n)d settled day still needed after the stop", "%(n)d settled days still needed after the stop")
TENDER = mark_plural("%(n)d tender day", "%(n)d tender days")
GAPS = mark_plural("%(n)d day without a session", "%(n)d days without a session")
REST = mark("day %(day)s of rest")
FIRST_WEEK = mark("day %(day)s of the first week")
STAGES = {1: mark("short sessions"), 2: mark("fuller short sessions")}
GROWING = mark("sets still growing")
FAST = mark("faster pace")


def numbers_of(day: ClosedDay, plan: Plan) -> Mapping[str, int]:
    """Return every number that a sentence of `CLASSED_BY` may contain; unknown ratings are left out."""
    usual = plan.client.usual
    known = {
        "during": day.facts.during,
        "morning": day.facts.morning,
        "before": usual if day.before is None else day.before,
        "usual": usual,
        "ceiling": plan.tuning.settled_during,
        "calm": calm_limit(usual),
        "sore": sore_limit(usual),
        "over": int(figures.FLARED_OVER_USUAL.value),
        "enough": round(100 * figures.ENOUGH_DONE.value),
        "sharp": int(figures.SHARP_RATING.value),
        "flared": int(figures.FLARED_RATING.value),
        "rise": int(figures.FLARED_RISE.value),
    }
    return {name: number for name, number in known.items() if number is not None}


def classed_text(words: Words, day: ClosedDay, plan: Plan) -> str:
    """Return why a day has its class, with the numbers that decided."""
    text = CLASSED_BY[day.classed_by]
    if day.classed_by == "part-done" and day.dose.mode != "training":
        text = UNASKED
    elif day.classed_by == "part-done" and day.facts.is_near_sport and day.facts.done == ENOUGH:
        text = NEAR_SPORT
    elif day.classed_by == "flared-rise" and day.before is None:
        text = FLARED_RISE_OVER_USUAL
    return words.say(text, **numbers_of(day, plan))


def _counts(words: Words, state: State, plan: Plan) -> list[str]:
    owed = plan.tuning.widen_days - state.settled_streak if state.settled_streak < 0 else 0
    counts = ((STREAKS, state.settled_streak), (OWED, owed), (TENDER, state.tender_days), (GAPS, state.gap_days))
    return [words.plural(*forms, number) for forms, number in counts if number > 0]


def _first_week(words: Words, state: State) -> list[str]:
    parts = [words.say(FIRST_WEEK, day=state.first_week_day)] if state.first_week_day else []
    return parts + ([words.say(STAGES.get(state.first_week_stage, GROWING))] if state.first_week_stage else [])


def state_text(words: Words, state: State, plan: Plan) -> str:
    """Return a state in one line: rung, range, mode, and the counts that are not 0."""
    parts = [words.say(RUNG, rung=state.rung, top=plan.ladder.top)]
    if state.ease:
        parts.append(range_text(words, figures.RANGE_BY_EASE[state.ease].value))
    if state.rest_days:
        parts.append(words.say(REST, day=state.rest_days))
    elif state.mode != "training":
        parts.append(mode_text(words, state.mode).lower())
    parts += _counts(words, state, plan) + _first_week(words, state)
    if state.pace > 1:
        parts.append(words.say(FAST))
    return words.listed(parts)


def class_word(words: Words, response: str) -> str:
    """Return the core's word for how a day went, as the start of a sentence."""
    return words.say(CLASS_WORDS[SHOWN[response]])

"""A finding of the review in words for a practitioner: the finding, its evidence, what to consider.

May know the findings' ids and numbers; decides nothing and names no condition of a body.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

from babel.numbers import format_percent

from webapp.dosing.findings.arm_course import Finding
from webapp.words.amounts import load_text, number_text
from webapp.words.catalogue import Words, mark
from webapp.words.days import day_text

UNNAMED_SIGN = mark("The client did not say which sign. After a stop for sharp pain the answer was: yes, or not sure.")
UNNAMED_EMERGENCY = mark("One of the emergency signs. The client did not say which.")
FOUND = {
    "sharp": mark("Sharp pain or a warning sign was reported, and the arm is held."),
    "held-after-rest": mark("A week of rest did not settle the arm, and it is held."),
    "rest-long": mark("Day %(days)s of rest."),
    "flared-twice": mark("The arm flared %(count)s times in seven days."),
    "silent": mark("No session for %(count)s days."),
    "no-session": mark("No session for %(count)s days."),
    "mornings-missing": mark("No morning report after the last %(count)s days with a session."),
    "week-worse": mark(
        "Mornings are worse than the week before: the middle value is %(this_week)s, and was %(week_before)s."
    ),
    "sore-long": mark("Sore mornings in %(count)s reports in a row, over more than a week."),
    "floor": mark("%(days)s days on the lowest rung at half range: nothing is left to ease."),
    "tender-at-half": mark("Sore on %(count)s days at half range."),
    "not-better-6-weeks": mark("In six weeks mornings went from %(began_at)s to %(now_at)s."),
    "not-better-4-weeks": mark("In four weeks mornings went from %(began_at)s to %(now_at)s."),
    "same-answers": mark(
        "The same answers for %(days)s days, %(during)s in the session and %(morning)s in the morning, while the work doubled."
    ),
    "usual-too-low": mark(
        "The middle value of the mornings is steady at %(could_be)s. The usual pain is set at %(usual)s, so they count as tender."
    ),
    "usual-too-high": mark("The middle value of the mornings is %(could_be)s. The usual pain is set at %(usual)s."),
    "resting": mark("No climb for %(days)s days: the arm flares and rests. It stands on rung %(rung)s."),
    "away": mark("No climb for %(days)s days: too many days without a session. The arm stands on rung %(rung)s."),
    "tender": mark("No climb for %(days)s days: mornings are sore. The arm stands on rung %(rung)s."),
    "aching": mark("No climb for %(days)s days: sessions are rated over %(ceiling)s. The arm stands on rung %(rung)s."),
    "not-rated": mark(
        "No climb for %(days)s days: the morning or the session is not rated. The arm stands on rung %(rung)s."
    ),
    "done-in-part": mark(
        "No climb for %(days)s days: sessions are done only in part. The arm stands on rung %(rung)s."
    ),
    "jump": mark("No climb for %(days)s days: the ladder ends here, below a jump from %(from)s to %(to)s."),
    "by-hand": mark(
        "No climb for %(days)s days: with a usual morning pain of %(usual)s only you set the next rung. "
        "The arm stands on rung %(rung)s."
    ),
    "plateau": mark("No climb for %(days)s days, and no single cause. The arm stands on rung %(rung)s."),
    "goal-settled": mark("At the goal, and settled for %(count)s days."),
    "peak": mark("With %(load)s the heaviest moment is about %(share)s of estimated strength."),
    "jump-ahead": mark("A jump is near: from %(from)s to %(to)s. The ladder ends below it."),
}

BRIDGED = mark("A weight of %(low)s to %(high)s in between would bridge it. Or accept the jump on the routine page.")
BRIDGED_BY_JUST = mark("A weight of %(low)s in between would bridge it. Or accept the jump on the routine page.")
NOT_BRIDGED = mark(
    "No single weight in between would bridge it. Consider two weights in between, or accept the jump on the routine page."
)
CONSIDER = {
    "sharp": mark("Talk to the client today. Release the hold only once it has been looked at."),
    "held-after-rest": mark("Talk to the client, and have the arm seen. The hold stays until you release it."),
    "rest-long": mark("An arm that is still sore after two days of rest should be seen."),
    "flared-twice": mark("Ask what else the arm did. Consider a lower rung or a slower pace."),
    "silent": mark("Get in touch. Before a new start, ask about injury, operation, injection, new medicine and fever."),
    "no-session": mark("A short message may be enough."),
    "mornings-missing": mark("Without a morning report nothing goes up. Ask what makes the report difficult."),
    "week-worse": mark("Soreness should not climb from week to week. Ask what has changed, and consider easing off."),
    "sore-long": mark(
        "That is longer than soreness after exercise usually lasts. Look at the arm again, or have it seen."
    ),
    "floor": mark(
        "Ask how the arm is. If it is sore with so little work, have it seen. If it is calm, ask what makes the sessions difficult."
    ),
    "tender-at-half": mark("The dose stays as it is. Ask what else the arm does, and consider a lower rung."),
    "not-better-6-weeks": mark("Refer to a physiotherapist or doctor."),
    "not-better-4-weeks": mark("Less than 2 points or 30 per cent better. Consider a referral."),
    "same-answers": mark("The dose follows these numbers. Ask how it really is."),
    "usual-too-low": mark("Ask whether mornings are usually like that. If they are, consider a higher usual pain."),
    "usual-too-high": mark("Consider a lower usual pain: a worse morning is then noticed sooner."),
    "resting": mark(
        "Something is too much for the arm. Ask what else it does; consider a lower rung, or have it seen."
    ),
    "away": mark(
        "After three days without a session, settled days are counted from the start again. Ask what makes the session difficult."
    ),
    "tender": mark("Ask what else the arm does in a day. Consider a lower rung, or more settled days for each step."),
    "aching": mark(
        "Ask how it feels during the lifts. Where mornings stay calm, 4 to 5 in the session can be acceptable: "
        "consider a higher ceiling, or a lower rung."
    ),
    "not-rated": mark("Only a day with both numbers can count as settled. Ask what makes the questions difficult."),
    "done-in-part": mark(
        "Only a day with four fifths of the work in every direction can count as settled. "
        "Ask what is too long or too heavy, and consider a rung that can be done whole."
    ),
    "jump": BRIDGED,
    "by-hand": mark("If the arm is ready for more, set the next rung on the routine page."),
    "plateau": mark("Look at the days below, and at how many settled days the routine asks for one step."),
    "goal-settled": mark("Consider maintenance on three days a week, or finishing."),
    "peak": mark("Go carefully, and look at form and comfort. A lighter weight with more reps is gentler."),
    "jump-ahead": BRIDGED,
}

ON_DAYS = mark("%(day)s: %(number)s")
SPAN = mark("%(first)s to %(last)s")
SINCE = mark("since %(day)s")
LISTED_ONE_BY_ONE = 3
WITH_NUMBERS = frozenset({"flared-twice", "week-worse", "sore-long", "tender-at-half", "not-better-6-weeks",
                          "not-better-4-weeks", "usual-too-low", "usual-too-high", "goal-settled"})  # fmt: skip
OF_DAYS = mark("Of the last %(of)s days without a climb: %(kinds)s.")
KINDS = {
    "settled": mark("%(n)s settled"),
    "resting": mark("%(n)s flared or resting"),
    "away": mark("%(n)s without a session"),
    "tender": mark("%(n)s tender or sore"),
    "aching": mark("%(n)s aching"),
    "not-rated": mark("%(n)s with a number missing"),
    "done-in-part": mark("%(n)s done in part"),
}

Weights = Sequence[Mapping[str, Any]]


class Counted(Protocol):
    """A finding with the number of days that show it, or the part of it that the caseload keeps."""

    @property
    def id(self) -> str:
        """The id of its row in the review's table."""

    @property
    def count(self) -> int:
        """The number of days or mornings that show it."""

    @property
    def numbers(self) -> Sequence[tuple[str, float]]:
        """Further numbers, by name."""


def _gaps(words: Words, finding: Counted, weights: Weights) -> dict[str, str]:
    gaps = {name: number_text(words, number) for name, number in finding.numbers}
    numbers = dict(finding.numbers)
    gaps["count"] = str(finding.count)
    if "share" in numbers:
        gaps["share"] = format_percent(round(numbers["share"], 2), locale=words.cldr)
        gaps["load"] = load_text(words, numbers["load_kg"], weights)
    if "from_kg" in numbers:
        gaps |= {end: load_text(words, numbers[f"{end}_kg"], weights) for end in ("from", "to")}
    if "bridge_low_kg" in numbers:
        gaps |= {end: load_text(words, numbers[f"bridge_{end}_kg"]) for end in ("low", "high")}
    return gaps


def finding_text(words: Words, finding: Counted, weights: Weights = ()) -> str:
    """Return the finding with its numbers; `weights` are the weights as entered, so that loads keep their unit."""
    return words.say(FOUND[finding.id], **_gaps(words, finding, weights))


def consider_text(words: Words, finding: Finding) -> str:
    """Return what the practitioner may consider; the practitioner decides."""
    gaps = _gaps(words, finding, ())
    text = CONSIDER[finding.id]
    if text == BRIDGED and "low" not in gaps:
        text = NOT_BRIDGED
    elif text == BRIDGED and gaps["low"] == gaps["high"]:
        text = BRIDGED_BY_JUST
    return words.say(text, **gaps)


def since_text(words: Words, finding: Finding) -> str:
    """Return since when the finding holds."""
    return words.say(SINCE, day=day_text(words, finding.since))


def _days_by_kind(words: Words, finding: Finding) -> str:
    numbers = dict(finding.numbers)
    kinds = [
        words.say(text, n=int(numbers[f"count-{kind}"])) for kind, text in KINDS.items() if f"count-{kind}" in numbers
    ]
    return words.say(OF_DAYS, of=int(numbers["of"]), kinds=words.listed(kinds)) if kinds else ""


def _listed(words: Words, finding: Finding) -> str:
    evidence = finding.evidence
    span = words.say(SPAN, first=day_text(words, evidence[0][0]), last=day_text(words, evidence[-1][0]))
    if finding.id not in WITH_NUMBERS:
        return span
    if len(evidence) > LISTED_ONE_BY_ONE:
        return words.say(ON_DAYS, day=span, number=words.listed([number_text(words, number) for _, number in evidence]))
    days = [(day_text(words, on), number_text(words, number)) for on, number in evidence]
    return words.listed([words.say(ON_DAYS, day=day, number=number) for day, number in days])


def evidence_text(words: Words, finding: Finding) -> str:
    """Return the evidence: for a standstill the number of days of each kind, else the days, with their numbers if useful."""
    if "of" in dict(finding.numbers):
        return _days_by_kind(words, finding)
    return _listed(words, finding) if len(finding.evidence) > 1 else ""

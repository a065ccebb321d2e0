"""What the review found, told to a practitioner: the finding, what it rests on, what to consider.

May know the findings' ids and numbers; decides nothing and names no condition of a body.
"""

from babel.dates import format_date, format_skeleton
from babel.numbers import format_percent

from webapp.dosing.review import Finding
from webapp.words.amounts import load_text, number_text
from webapp.words.catalogue import Words, mark

UNNAMED_SIGN = mark("Which one was not said: the answer, after a stop for sharp pain, was yes or not sure.")
FOUND = {
    "sharp": mark("Sharp pain or a warning sign was reported, and the arm is held."),
    "flared-twice": mark("The arm flared %(count)s times in seven days."),
    "silent": mark("No session for %(count)s days."),
    "no-session": mark("No session for %(count)s days."),
    "mornings-missing": mark("No morning report after the last %(count)s sessions."),
    "week-worse": mark("Mornings were worse than the week before: median %(this_week)s after %(week_before)s."),
    "sore-long": mark("Sore mornings for %(count)s reports on end, more than a week."),
    "not-better-6-weeks": mark("Six weeks, and mornings went from %(began_at)s to %(now_at)s."),
    "not-better-4-weeks": mark("Four weeks, and mornings went from %(began_at)s to %(now_at)s."),
    "plateau": mark("%(days)s days on rung %(rung)s."),
    "usual-lower": mark("Mornings have a median of %(could_be)s; the usual is set at %(usual)s."),
    "goal-settled": mark("At the goal, and settled for %(count)s days."),
    "peak": mark("With %(load)s the peak is about %(share)s of the estimated maximum."),
    "jump-ahead": mark("A jump is near: from %(from)s to %(to)s."),
}

CONSIDER = {
    "sharp": mark("Talk to the client today. Release the hold only once it has been looked at."),
    "flared-twice": mark("Ask what else the arm did. Consider a lower rung or a slower pace."),
    "silent": mark("Get in touch."),
    "no-session": mark("A short message may be enough."),
    "mornings-missing": mark("Without a morning report nothing progresses. Ask whether the question is in the way."),
    "week-worse": mark("Pain and stiffness should not climb from week to week. Consider easing off."),
    "sore-long": mark(
        "That is longer than soreness after exercise usually lasts. Look at the arm again, or have it seen."
    ),
    "not-better-6-weeks": mark("Refer to a physiotherapist or doctor."),
    "not-better-4-weeks": mark("Less than 2 points or 30 per cent better. Consider a referral."),
    "plateau": mark("Look at what keeps it there: reports, habits, the next weight."),
    "usual-lower": mark("Consider a new version with the lower usual."),
    "goal-settled": mark("Consider maintenance on three days a week, or finishing."),
    "peak": mark("Watch form and comfort; a lighter weight with more reps is the careful way."),
    "jump-ahead": mark(
        "A weight of %(low)s to %(high)s in between would bridge it, or take the jump on in so many words."
    ),
}

ON_DAYS = mark("%(day)s: %(number)s")
SINCE = mark("since %(day)s")
WITH_NUMBERS = frozenset({"flared-twice", "week-worse", "sore-long", "not-better-6-weeks", "not-better-4-weeks",
                          "usual-lower", "goal-settled"})  # fmt: skip


def _gaps(words: Words, finding: Finding) -> dict[str, str]:
    told = {name: number_text(words, number) for name, number in finding.numbers}
    numbers = dict(finding.numbers)
    told["count"] = str(len(finding.evidence))
    if "share" in numbers:
        told["share"] = format_percent(round(numbers["share"], 2), locale=words.cldr)
        told["load"] = load_text(words, numbers["load_kg"])
    if "from_kg" in numbers:
        told |= {"from": load_text(words, numbers["from_kg"]), "to": load_text(words, numbers["to_kg"])}
        told["low"] = load_text(words, round(numbers["bridge_low_kg"], 2))
        told["high"] = load_text(words, round(numbers["bridge_high_kg"], 2))
    return told


def finding_text(words: Words, finding: Finding) -> str:
    """Say what was found, with its numbers."""
    return words.say(FOUND[finding.id], **_gaps(words, finding))


def consider_text(words: Words, finding: Finding) -> str:
    """Say what to consider; the practitioner decides."""
    return words.say(CONSIDER[finding.id], **_gaps(words, finding))


def since_text(words: Words, finding: Finding) -> str:
    """Say since when."""
    return words.say(SINCE, day=format_date(finding.since, "d MMM", locale=words.cldr))


def evidence_text(words: Words, finding: Finding) -> str:
    """List the days it rests on, each with its number where the number says something."""
    days = [(format_skeleton("MMMd", on, locale=words.cldr), number) for on, number in finding.evidence]
    if finding.id in WITH_NUMBERS:
        return ", ".join(words.say(ON_DAYS, day=day, number=number_text(words, number)) for day, number in days)
    return ", ".join(day for day, _ in days)

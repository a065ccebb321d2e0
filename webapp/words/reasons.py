"""Why a day's dose is what it is, and how a day went, in one plain line each.

May know the codes of the rules and the responses; decides nothing.
"""

from webapp.dosing.responses import SHOWN
from webapp.words.catalogue import Words, mark

REASONS = {
    "start": mark("This is your first day."),
    "stop": mark("You reported sharp pain or a warning sign, so everything stops until it has been looked at."),
    "held": mark("Still stopped: your practitioner has to release this arm first."),
    "released": mark("Your practitioner has released this arm and chosen where it starts again."),
    "own-hand": mark("Your practitioner chose this step for you."),
    "carried-over": mark("A new routine: you go on with no more work than before."),
    # rest
    "rest-and-ease": mark("That was too much for the arm: today is rest, and the movements come back smaller."),
    "rest-and-step-down": mark("That was too much for the arm: today is rest, and it comes back one step lower."),
    "rest-at-the-bottom": mark(
        "Too much for the arm: today is rest. The dose is at its lowest already, and your practitioner is told."
    ),
    "still-resting": mark("The arm is still worse than usual, so it rests one more day."),
    "rest-be-seen": mark(
        "After days of rest the arm is still worse than usual, so it rests on. Have it looked at by a doctor or physiotherapist."
    ),
    "rest-to-hold": mark("The arm has not settled in a week of rest, so everything stops until it has been looked at."),
    "rest-over": mark("The rest is over, and the arm starts again."),
    # soreness
    "stay": mark("A bit sore: that is ordinary, and the dose stays as it is."),
    "past-the-cycle": mark("Sore for longer than the usual one to three days, so the movements get smaller."),
    "tender-at-half": mark(
        "Still sore: the dose stays, the movements are as small as they get, and your practitioner is told."
    ),
    "tender-step-down": mark("Sore for a week: one step down."),
    "tender-rest": mark("Sore for a week with the lowest dose: today is rest. Have the arm looked at."),
    "ache": mark("It ached in the session: the dose stays, and the count of good days starts again."),
    # what is missing
    "no-number": mark("A number is missing for yesterday, so nothing changes."),
    "part-done": mark("Part of it was done: the dose stays as it is."),
    # good days
    "widen": mark("Several good days in a row: the movements get a step bigger again."),
    "climb": mark("Several good days in a row: one step up."),
    "pace": mark("The last steps went well, so fewer good days were enough: one step up."),
    "wait": mark("A good day. A few of them in a row earn the next step."),
    "owed": mark("A good day. After a stop it takes seven of them before the next step."),
    "by-hand": mark("A good day. The dose stays here until your practitioner sets the next step."),
    "top": mark("A good day. You are at the highest step of this routine, and the dose stays here."),
    # the first week
    "first-week-fuller": mark("A good day: today's short sessions are a little longer."),
    "first-week-grows": mark("A good day: the sets get longer."),
    "first-week-together": mark("The first week is over: from today it is one session a day."),
    # days without a session
    "gap-resume": mark("A day or two off: carry on where you were."),
    "gap-streak": mark("Some days off: the same dose, and the count of good days starts again."),
    "gap-one-down": mark("A week off: one step down, to start gently."),
    "gap-two-down": mark("A week off: two steps down, to start gently."),
    "gap-half": mark("Two weeks off: further down, to start gently."),
    "gap-start": mark("Four weeks off: back to the beginning, to start gently."),
}

RESPONSES = {
    "settled": mark("It settled well."),
    "partly": mark("It was calm, and part of it was done."),
    "unreported": mark("A number is missing: the morning, or how the session felt."),
    "aching": mark("It ached in the session."),
    "tender": mark("It was a bit tender."),
    "sore": mark("It was sore, without a session."),
    "flared": mark("It flared up."),
    "sharp": mark("There was sharp pain or a warning sign."),
    "missed": mark("There was no session."),
}
"""By the nine names that people read (see `dosing.responses.SHOWN`)."""

MODES = {
    "training": mark("Training"),
    "resting": mark("Resting"),
    "held": mark("Stopped"),
}

ARMS = {"right": mark("Right arm"), "left": mark("Left arm")}


def reason_text(words: Words, rule: str) -> str:
    """Give the plain reason behind a rule id; a rule without words is a KeyError."""
    return words.say(REASONS[rule])


def response_text(words: Words, response: str) -> str:
    """Say how a day went, by the core's word for it."""
    return words.say(RESPONSES[SHOWN[response]])


def mode_text(words: Words, mode: str) -> str:
    """Name a mode: training, resting or held."""
    return words.say(MODES[mode])


def arm_text(words: Words, arm: str) -> str:
    """Name an arm: right or left."""
    return words.say(ARMS[arm])

"""Why a day's dose is what it is, and how a day went, in one plain line each.

May know the codes of the rules and the responses; decides nothing.
"""

from webapp.words.catalogue import Words, mark

REASONS = {
    "start": mark("This is your first day."),
    "stop": mark("You reported sharp pain or a warning sign, so everything stops until it has been looked at."),
    "held": mark("Still stopped: your practitioner has to release this arm first."),
    "released": mark("Your practitioner has released this arm and chosen where it goes on."),
    "rest-and-ease": mark("That was too much for the arm, so today is rest, and it comes back easier."),
    "rest-over": mark("The rest is over, and the arm starts again a little easier."),
    "still-resting": mark("The arm is still worse than usual, so it rests one more day."),
    "stay": mark("A bit sore: that is ordinary, and the dose stays as it is."),
    "past-the-cycle": mark("Sore for longer than the usual one to three days, so the dose eases one step."),
    "widen": mark("Several good days in a row: a step of the easing is taken back."),
    "climb": mark("Several good days in a row: one step up."),
    "pace": mark("The last steps went well, so fewer good days are enough for the next one."),
    "wait": mark("A good day. A few of them in a row earn the next step."),
    "top": mark("You are at the goal. The dose stays here."),
    "no-report-no-climb": mark("There was no morning report, so nothing changes."),
    "gap-resume": mark("A day or two off: carry on where you were."),
    "gap-streak": mark("Some days off: the same dose, and the count of good days starts again."),
    "gap-two-down": mark("A week off: two steps down, to start gently."),
    "gap-half": mark("Two weeks off: half of the way down, to start gently."),
    "gap-start": mark("Four weeks off: back to the beginning, to start gently."),
    "first-week": mark("In the first week it is short sessions, several a day."),
    "one-thing": mark("Only one thing changes at a time, so the next step waits a little."),
    "carried-over": mark("A new routine: you go on from where you were."),
}

RESPONSES = {
    "settled": mark("It settled well."),
    "tender": mark("It was a bit tender."),
    "flared": mark("It flared up."),
    "sharp": mark("There was sharp pain or a warning sign."),
    "unreported": mark("There is no morning report yet."),
    "missed": mark("There was no session."),
}

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
    return words.say(RESPONSES[response])


def mode_text(words: Words, mode: str) -> str:
    """Name a mode: training, resting or held."""
    return words.say(MODES[mode])


def arm_text(words: Words, arm: str) -> str:
    """Name an arm: right or left."""
    return words.say(ARMS[arm])

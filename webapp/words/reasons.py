"""Why a day's dose is what it is, and how a day went, in one plain line each.

May know the codes of the rules and the responses; decides nothing.
"""

from webapp.dosing.responses import SHOWN
from webapp.words.catalogue import Words, mark

REASONS = {
    "start": mark("This is your first day."),
    "stop": mark("Sharp pain, a rating of 8 or more, or a warning sign: the arm stops until it has been looked at."),
    "held": mark("Still stopped: your practitioner has to release this arm first."),
    "released": mark("Your practitioner has released this arm and chosen where it starts again."),
    "own-hand": mark("Your practitioner chose this step for you."),
    "own-ease": mark("Your practitioner chose a smaller range for now. Settled days widen it again."),
    "hand-too-soon": mark(
        "Your practitioner chose a higher step. But the arm stopped or flared up within seven days, so that step does not count."
    ),
    "carried-to-the-bottom": mark("A new routine: you go on at its lowest step."),
    "carried-over": mark("A new routine: you go on with no more work than before."),
    # rest
    "rest-and-ease": mark("The arm flared up, so it rests. After the rest the movements are smaller."),
    "rest-and-step-down": mark("The arm flared up, so it rests. It comes back one step lower."),
    "rest-at-the-bottom": mark("The arm flared up at the lowest step there is, so it rests. Tell your practitioner."),
    "still-resting": mark("The arm has not settled yet, so the rest goes on."),
    "rest-be-seen": mark(
        "After days of rest the arm has not settled, so the rest goes on. Let a doctor or physiotherapist look at it."
    ),
    "rest-to-hold": mark("The arm has not settled after six days of rest, so it stops until it has been looked at."),
    "rest-over": mark("The rest is over. The arm starts again, a step lower than before or on the lowest step."),
    # soreness
    "stay": mark("The arm is sore. Sore for up to three days is common, and by itself it changes nothing."),
    "past-the-cycle": mark("The arm was sore on more than three days. That is long, so the movements get smaller."),
    "tender-at-half": mark(
        "Still sore, and the movements are as small as they get. Nothing changes by itself. Your practitioner is told."
    ),
    "tender-step-down": mark("The arm was sore on seven days: one step down."),
    "tender-rest": mark(
        "The arm was sore on seven days at the lowest step, so it rests. Let a doctor or physiotherapist look at it."
    ),
    "ache": mark("The arm ached in the session. So the day does not count as a good one, and nothing goes up for it."),
    # what is missing
    "no-number": mark("A number is missing for yesterday, so that day by itself changes nothing."),
    "part-done": mark(
        "Only part of the work was done, or sport of the way back was near, so that day by itself changes nothing."
    ),
    # good days
    "widen": mark("Enough good days: the movements get a step bigger again."),
    "climb": mark("Enough good days: one step up."),
    "pace": mark("The last steps went well, so fewer good days were enough: one step up."),
    "wait": mark("A good day. A few good days in a row bring the next step."),
    "owed": mark("A good day. After a stop, seven good days must come before the next step."),
    "by-hand": mark("A good day. Your practitioner sets each next step."),
    "top": mark("A good day. You are on the highest step of this routine."),
    # the first week
    "first-week-fuller": mark("A good day: the short sessions get more reps."),
    "first-week-grows": mark("Enough good days: sets that are still short get more reps."),
    "first-week-together": mark(
        "The first week is over. A day now has one session, and its sets grow by half at most from day to day."
    ),
    # days without a session
    "gap-resume": mark("A day or two without a session: carry on where you were."),
    "gap-streak": mark("A few days without a session: your good days are counted from the beginning."),
    "gap-one-down": mark("A week without a session: one step down, to start gently."),
    "gap-two-down": mark("A week without a session: two steps down, to start gently."),
    "gap-half": mark("Two weeks without a session: further down, to start gently."),
    "gap-start": mark("Four weeks without a session: down to the lowest step, to start gently."),
}

RESPONSES = {
    "settled": mark("The arm settled well."),
    "partly": mark("The arm was calm, and part of the work was done."),
    "unreported": mark("A number is missing: the morning, or how the session felt."),
    "aching": mark("The arm ached in the session."),
    "tender": mark("The arm was tender."),
    "sore": mark("The arm was sore, and there was no session."),
    "flared": mark("The arm flared up."),
    "sharp": mark("There was sharp pain, a rating of 8 or more, or a warning sign."),
    "missed": mark("There was no session."),
}
"""By the nine names that people read (see `dosing.responses.SHOWN`)."""

MODES = {
    "training": mark("Training"),
    "resting": mark("Resting"),
    "held": mark("Held"),
}

ARMS = {"right": mark("Right arm"), "left": mark("Left arm")}


def reason_text(words: Words, rule: str) -> str:
    """Return the plain reason of a rule by its id; an id without words is a KeyError."""
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

"""The return ladder in words: why a day's sport is what it is, in one plain line each.

May know the codes of the rules; decides nothing.
"""

from webapp.words.catalogue import mark

RETURN_REASONS = {
    "return-start": mark("The way back has just been opened."),
    "return-over": mark("The way back is stopped until your practitioner opens it again."),
    "return-second-flare": mark(
        "The arm flared up twice within 28 days, so the way back stops. Your practitioner is told. Let a doctor or physiotherapist look at the arm."
    ),
    "return-third-flare": mark(
        "Three tries did not go well, so the way back stops. Your practitioner is told. Let a doctor or physiotherapist look at the arm."
    ),
    "return-third-try": mark(
        "Three tries did not go well, so the way back stops. Your practitioner is told. Let a doctor or physiotherapist look at the arm."
    ),
    "return-sharp": mark(
        "Sharp pain or a warning sign: no sport. After the release and a rest it begins again at step 1."
    ),
    "return-sharp-again": mark(
        "Sharp pain or a warning sign again: no sport. After the release and a rest it begins again at step 1."
    ),
    "return-flare": mark(
        "The arm flared up: no sport until three calm mornings in a row, and five days at least. Then two steps back."
    ),
    "return-flares-on": mark("The arm is still flared up, so the rest from sport begins again."),
    "return-not-yet": mark("There was sport during the rest, so the rest from sport begins again."),
    "return-rested": mark("The rest from sport is over."),
    "return-rest-calm": mark("The rest from sport goes on. The calm morning counts."),
    "return-rest": mark(
        "The rest from sport goes on. It ends with three calm mornings in a row, on the fifth day at the earliest."
    ),
    "return-tender": mark("The morning after was tender: the same step again, once a morning is calm."),
    "return-ache": mark("It ached more than it should: the same step again."),
    "return-ache-untold": mark(
        "It ached more than it should, and the morning is not known: the same step again, once a morning is calm."
    ),
    "return-untold": mark(
        "A number is missing, so that day does not count. Sport waits for a calm morning, which takes one tap."
    ),
    "return-settled": mark("It went well, and it counts towards the next step."),
    "return-more": mark(
        "It was more than the step allows, or on a day without sport, so it does not count towards the next step."
    ),
    "return-fewer": mark("It was less than the step asks, so it does not count towards the next step."),
    "return-calm": mark("The morning was calm, so sport is possible again."),
    "return-wait": mark("The morning was not calm, so sport waits for one that is."),
    "return-first-morning": mark("This morning is not known yet. Sport waits for a calm morning, which takes one tap."),
    "return-stay": mark("Nothing has changed: the step stays."),
    "return-away-one": mark("Two weeks without sport: one step back."),
    "return-away-half": mark("Four weeks without sport: half of the way down."),
    "return-away-gate": mark("Six weeks without sport: the way back is closed. Your practitioner can open it again."),
}
"""What the client reads, by the id of the rule."""

OUTINGS = {
    "none": mark("no sport"),
    "counted": mark("sport within the step"),
    "uncounted": mark("more sport, or on another day"),
    "up": mark("the first sport of the next step"),
    "fewer": mark("less sport than the step asks"),
    "before": mark("a day before the way back begins"),
}
AMOUNTS = {"fewer": mark("less"), "asked": mark("as asked"), "more": mark("more")}
"""How much an outing was beside what its step asks."""
FEELS = {
    "calm": mark("calm"),
    "untold": mark("a number is missing"),
    "aching": mark("aching, the morning calm"),
    "aching_untold": mark("aching, the morning not known"),
    "sore": mark("a morning that is not calm"),
    "flared": mark("flared"),
    "sharp": mark("sharp"),
}
GO_MODES = {
    "open": mark("open"),
    "waiting": mark("waits for a calm morning"),
    "resting": mark("rests after a flare"),
    "stopped": mark("stopped"),
    "away": mark("ended by an absence"),
}
RETURN_MOVES = {
    "stays": mark("the step stays"),
    "two_back": mark("two steps back"),
    "one_back": mark("one step back"),
    "half_way": mark("half of the way down"),
    "first": mark("the first step"),
}

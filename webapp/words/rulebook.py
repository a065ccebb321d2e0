"""The sentences of the rule book that a clinician reviews. They contain no numbers; the tables fill those in."""

from webapp.words.catalogue import mark

COMMAND = mark("print the whole rule book as one page to review and sign")
OUTPUT = mark("write the page to this file; left out: to the terminal")
CLIENTS = mark("virtual clients of each kind in the trial that the page tells of, 10 to 5000 (default 100)")
WRITTEN = mark("%(path)s is written. No clinician has signed it yet.")
CANNOT_WRITE = mark("%(path)s cannot be written (%(why)s); name a file in a folder that exists and may be written to.")

EXAMPLE = mark(
    "The example on these pages: an invented adult of %(mass)s kg and %(height)s m, weights of %(weights)s, usual "
    "morning pain %(usual)s, every setting at its default."
)
TO_DO = mark("The client is told: “%(act)s”")
FIRST_THAT_FITS = mark(
    "Read from the top: the first row that fits decides. “Number” is what the row's words call this many, this much or enough; "
    "in brackets stand the limits within which a practitioner may set it."
)
ALWAYS = mark("any day")
IDLE = mark("a day without a session")
ANY_SPORT = mark("sport or none")
DAYS_WITHOUT_SPORT = mark("so many days in a row without sport")
AND_WITHOUT = mark("%(response)s, or %(idle)s")
BASIS = mark("%(key)s (%(mark)s)")
TUNABLE = mark("%(default)s (%(low)s to %(high)s)")
LEVER = mark("%(rung)s at %(range)s")
NOTHING = mark("–")
PER_CENT = mark("%(number)s %%")

TITLES = {
    "classes": mark("How a day is classed"),
    "own": mark("What follows: the rule of the day"),
    "first week": mark("What follows: the first week"),
    "gap": mark("What follows: days without a session"),
    "fortnight": mark("A calm first fortnight of the example"),
    "away": mark("After days away, in the example"),
    "release": mark("Coming back after a hold, in the example"),
    "ladder": mark("The ladder of the example"),
    "return": mark("The way back to sport or work: what follows from a day"),
    "return ladders": mark("The way back to sport or work: the steps"),
    "tuned": mark("What a practitioner may tune"),
    "entered": mark("What else is entered, and its limits"),
    "figures": mark("Every figure"),
    "statements": mark("What is always true"),
    "review": mark("What the practitioner is told"),
    "reasons": mark("What the client reads"),
    "populations": mark("Kinds of clients that the rules were tried on"),
    "sources": mark("Sources"),
}

HEADS = {
    "warnings": (mark("Sign"), mark("What the client reads"), mark("Holds"), mark("Basis")),
    "classes": (mark("Row"), mark("When"), mark("Number"), mark("The day is"), mark("Basis")),
    "rules": (mark("Rule"), mark("Arm and day"), mark("And when"), mark("Number"), mark("Then"), mark("Basis")),
    "fortnight": (mark("Day"), mark("Sessions"), mark("Reps"), mark("To a side"), mark("Weight"), mark("Work, J"), mark("Stretch, s")),
    "away": (mark("Rung before"), mark("3 days"), mark("7 days"), mark("14 days"), mark("28 days")),
    "release": (mark("Stopped on rung"), mark("at the whole range"), mark("at three quarters"), mark("at half")),
    "ladder": (
        mark("Rung"), mark("Weight"), mark("Reps"), mark("To a side"), mark("Work, J"), mark("Rise"), mark("Peak"), mark("Day"),
    ),
    "return ladders": (
        mark("Ladder"), mark("Step"), mark("Days of seven"), mark("Minutes a day"), mark("Strokes a day"), mark("What it allows"),
    ),
    "settings": (mark("Setting"), mark("Default"), mark("From"), mark("To"), mark("Unit"), mark("Basis")),
    "figures": (mark("Figure"), mark("Value"), mark("Unit"), mark("Basis")),
    "statements": (mark("No."), mark("Statement"), mark("Checked for this page")),
    "review": (mark("Finding"), mark("When"), mark("Number"), mark("What the page suggests"), mark("Basis")),
    "reasons": (mark("Rule"), mark("Sentence on the day's page")),
    "sources": (mark("Key"), mark("Who, when, where"), mark("What is taken from it"), mark("How it was seen")),
}  # fmt: skip

HOLDS_BOTH = mark("both arms")
HOLDS_ARM = mark("the arm it is about")
HOLDS_NOTHING = mark("nothing")

NOTES = {
    "classes": (
        mark(
            "Every arm and day has one class. It comes from what was done and three ratings, whole numbers from 0 to 10: "
            "the worst in any session of the day, the next morning, and before: the lowest morning told on that day and the "
            "two before it. Where no earlier morning is known, the usual morning stands in."
        ),
        mark("Sharp, catching or disabling pain, or a warning sign, makes the day sharp whatever the ratings say."),
        mark(
            "Done is none, part or enough. Enough: every asked direction reached %(enough)s of its work, counted from the "
            "reps, weights and ranges that were really done. On a day that asks nothing any work done is part."
        ),
        mark(
            "A morning is calm up to %(calm)s, or up to the usual morning where that is higher. The higher limit, for days of "
            "rest and days without a session, is the usual morning and %(sore)s more, and never under %(calm)s."
        ),
        mark("A session without a rating never hides a number that is known: a day that would be calm is then unreported."),
        FIRST_THAT_FITS,
    ),
    "own": (
        mark(
            "An arm trains, rests or is held. It stands on a rung of the ladder, at a step of ease: none, one (range "
            "%(one)s) or two (range %(two)s). Any change of rung or ease begins the count of settled days again."
        ),
        FIRST_THAT_FITS,
    ),
    "first week": (
        mark(
            "Days 1 to %(days)s, counted from the start and not begun again by a gap. The first days ask short sessions "
            "that add up to at most %(first)s times the single session, later ones at most %(later)s times; no climbed dose "
            "before day %(climbed)s."
        ),
    ),
    "gap": (
        mark(
            "Days in a row without a session, whatever the mornings said, days of rest included. The rule is applied after "
            "the day's own rule; ease stays as it is."
        ),
    ),
    "fortnight": (mark("What each day asks when every day before it was settled."),),
    "away": (mark("The rung on which an arm goes on after so many days in a row without a session."),),
    "release": (
        mark("A hold ends only when the practitioner releases it. A release sets the arm at this rung and range or at less, never at more than where it stopped."),
        mark("%(days)s settled days are owed before the first increase after it; the counts of settled, tender and missed days begin again, and the first week is over."),
        mark("By hand a practitioner may set the rung and the range of an arm at any time. The counts then begin again. A held arm stays held and is not raised."),
    ),
    "ladder": (
        mark(
            "Work is what a rep lifts against gravity at the wrist, in joules, from published body figures. At one weight reps "
            "rise from the bottom to the goal; a heavier weight comes with fewer reps. Rise is the share over the rung below; "
            "peak is the share of the estimated maximum of the weakest direction; day is the first day on this rung when "
            "every day is settled."
        ),
        mark("Where no start is chosen, an arm with a usual morning of %(most)s or less begins %(up)s rungs up, any other at the bottom."),
    ),
    "return": (
        mark("Beside the exercises a client may go back to a sport or to work with the hands, step by step, once the practitioner has opened it. All of its numbers are our own choice: no trial is known."),
        mark("Sport is never on two days running, and never on more days of seven than the step asks. A step takes a week at least, and all of its sport must be settled. Nobody goes up within 72 hours of a larger dose of the exercises, and for 72 hours after the first sport of a higher step the exercises go up by nothing."),
        mark("How sport felt is classed by the same table as a session, with the worst in sport. A hold of an arm stands above everything here."),
        FIRST_THAT_FITS,
    ),
    "return ladders": (mark("Most days, minutes and strokes. Own choice throughout."),),
    "tuned": (mark("For one client or one routine, within these limits and no further."),),
    "entered": (),
    "figures": (mark("Numbers that the rules stand on, and nobody tunes."),),
    "statements": (
        mark(
            "The counts were made while this page was written, on the example: %(states)s states, %(doses)s different doses, "
            "%(responses)s classes of a day. Days of gap are counted beside the states. Other routines and weights are "
            "checked by the tests of the program, not here."
        ),
    ),
    "review": (
        mark("The review looks at the course of an arm each day. It speaks to the practitioner and never changes a dose by itself."),
        mark(
            "Where an arm stands still it may offer another usual pain or another settled ceiling, at most once in %(pause)s days. "
            "A usual pain of %(by_hand)s or more takes a tick that a clinician has seen the arm; a ceiling over %(ceiling)s takes "
            "a reason in words. The practitioner takes an offer up or leaves it."
        ),
    ),
    "populations": (
        mark(
            "A simulation, run while this page was written, and no part of the seal: invented clients of many kinds follow the "
            "example's plan for twelve weeks. It shows how the rules compare, and promises nothing."
        ),
    ),
    "reasons": (mark("A rule's sentence stands beside the dose that follows from it."),),
    "sources": (mark("Every basis on these pages is a key of this list. Most papers were not open to us in full."),),
}  # fmt: skip

STATEMENTS = {
    "1": mark("Work never rises on the day after a class other than settled. Back from rest it is not above where the rest began."),
    "2": mark("One climb raises the work by at most its cap; a heavier weight has a smaller cap of its own. Range and rung never rise together, and range only comes back a step at a time. A stretch is held longer only after a settled day, and never on a day when range, rung or work go up."),
    "3": mark("A held arm leaves its hold only by a release. Every other state rests or is held after one flared day, and reaches the goal, or the highest rung allowed, by settled days."),
    "4": mark("A worse report never brings a bigger dose than a better one on the next day, and on no later day when only settled days follow."),
    "5": mark("Every state has an answer to every class of a day, and every answer is a state of the same table."),
    "6": mark("What the phone looks up is what the rules decide, for every state and class, and for every cell of the table of ratings."),
    "7": mark("Work that was not done never earns more work: no cell without enough done is settled, and no other class raises rung or range."),
    "8": mark("Nobody is stuck in silence: where nothing climbs for long, or an arm stays at the bottom, the review names the cause."),
    "9": mark("After a hold or a rest an arm never comes back to more than it had when it stopped."),
}  # fmt: skip
COUNTED = (mark("%(n)s checked, none against it"), mark("%(n)s checked, %(against)s AGAINST IT"))
NOT_COUNTED = mark("not counted here: the program's tests check it")

"""What a clinician who reviews the rule book reads beside the tables: what is not known, what to sign, what is open."""

from webapp.words.catalogue import mark

UNKNOWN = (
    mark("Whether these rules help anybody. They were tried on simulated clients only, whose spreads are invented."),
    mark(
        "Whether strengthening the wrist beats waiting at all. Pooled trials disagree: some find a moderate effect, one "
        "pooling of five trials finds none. The program promises care with the dose, not a cure."
    ),
    mark(
        "Whether the cut-points for pain fit this elbow. No study tested the ceiling of 5 of 10 there, and versions disagree on 3."
    ),
    mark(
        "Most papers were read as abstracts or on pages that report them. Values marked from memory were not looked up."
    ),
    mark(
        "How much a given wrist can bear. The maxima come from ten healthy men, and those of women from a ratio that mixes two "
        "ways of measuring; age is not counted. A share of such a maximum proves no safety."
    ),
    mark("How far a wrist bends while it grips: the range used rests on seven people."),
    mark("How to come back after days away or after a hold: no published schedule is known to us."),
    mark("Whether the first week's short sessions are gentler: practitioners say so, no paper does."),
    mark(
        "What happens when answers are wrong. In simulation, clients who tell three points less than they feel flare far more; "
        "no rule can see that."
    ),
    mark("How to go on when the usual morning pain is so high that the practitioner alone raises a rung."),
    mark(
        "Anything about people under 18, over 65, pregnant, after surgery, or with another illness of joints or nerves."
    ),
    mark("The work of the little finger's side with the arm hanging: the model does not fit that set-up."),
)

CHECKLIST = (
    mark("The warning signs: the list, their levels, their words, and which of them hold both arms."),
    mark("Where a day becomes sharp, and where it becomes flared."),
    mark("The usual morning pain: how high it may be set, and from where a clinician must have seen the arm."),
    mark("A slow creep of the mornings, many tender days in a row, a long rest."),
    mark("Coming back after a hold: who may release, after what, and to which dose."),
    mark("How fast an arm climbs and the bounds of that; the first week; sessions a day."),
    mark("What a gap does, and that enough must be done in every direction."),
    mark("The shares of the estimated maximum at which the program warns and stops."),
    mark("The movements and stretches, their order and their pictures."),
    mark("The session before sport, and the steps back to sport."),
    mark("What the practitioner is told, in which words, and when a referral is named."),
    mark("What a client reads on a held day, and what the sheet on paper says."),
    mark("Who answers, and within what time, when an arm is held."),
    mark("Who reads reports of harm, and who may switch the program off."),
)

QUESTIONS = (
    mark("May somebody who is no clinician release an arm after an emergency sign or a sign to be seen the same day?"),
    mark("Does the highest usual morning pain that may be set belong here at all?"),
    mark("Is half range for weeks, with pain of 3 to 5, acceptable?"),
    mark("Which measure of function should be used, and under which licence?"),
    mark("Which country's words for urgent care should stand on the phone?"),
    mark("Should people of 50 to 65 get a lower share of the maximum?"),
    mark("Does this count as a medical device where it is used?"),
)

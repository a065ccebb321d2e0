"""The words for what the rule book's tables name by a code: classes of a day, modes, settings, figures, marks.

May know the codes; nothing of how the core uses them. A code without a word is a KeyError.
"""

from webapp.words.catalogue import mark

RESPONSES = {
    "settled": mark("settled"),
    "partly": mark("partly"),
    "unreported": mark("unreported"),
    "aching": mark("aching"),
    "aching_untold": mark("aching with the morning not told"),
    "tender": mark("tender"),
    "tender_over": mark("tender over the higher limit"),
    "flared": mark("flared"),
    "sharp": mark("sharp"),
    "sore": mark("sore"),
    "flared_idle": mark("flared with no session"),
    "missed": mark("missed"),
}
MODES = {"training": mark("training"), "resting": mark("resting"), "held": mark("held")}
DONE = {"none": mark("none"), "part": mark("part"), "enough": mark("enough")}

MARKS = {
    "seen": mark("seen"),
    "second-hand": mark("second-hand"),
    "memory": mark("value from memory"),
    "common-practice": mark("common practice, no source"),
    "derived": mark("our arithmetic"),
    "own-choice": mark("own choice"),
}
MARKS_TOLD = {
    "seen": mark("the number was read in the source itself or in its abstract"),
    "second-hand": mark("the number was read on a page that reports the source"),
    "memory": mark("the number was not looked up; it must be before anybody relies on it"),
    "common-practice": mark("practitioners do it so; no paper says it"),
    "derived": mark("worked out from figures of others"),
    "own-choice": mark("chosen for this program, and open to a better choice"),
}

LEVELS = {
    "emergency": mark("Warning signs: an emergency"),
    "same_day": mark("Warning signs: to be seen the same day"),
    "soon": mark("Warning signs: to be seen before the arm exercises on"),
    "ask_first": mark("Warning signs: to be asked about first"),
}

SETTINGS = {
    "low_reps": mark("Reps at the bottom of each weight"),
    "goal_reps": mark("Reps at the goal"),
    "rise": mark("Most that one climb raises the work, reps alone"),
    "settled_during": mark("Highest rating of a session that still counts as settled"),
    "widen_days": mark("Settled days before a step of range comes back"),
    "climb_days": mark("Settled days before the next rung at the same weight"),
    "heavier_days": mark("Settled days before a heavier weight"),
    "fast_heavier_days": mark("Settled days before a heavier weight, once the pace is earned"),
    "top_share": mark("Highest share of the estimated maximum that is prescribed"),
    "first_week_sessions": mark("Short sessions a day in the first days"),
    "hold_shortest_seconds": mark("Shortest hold of a stretch"),
    "hold_longest_seconds": mark("Longest hold of a stretch"),
    "prepare_seconds": mark("Time to get ready"),
    "up_seconds": mark("Time of the way up"),
    "down_seconds": mark("Time of the way down"),
    "rest_seconds": mark("Rest between movements"),
    "change_arm_seconds": mark("Time to change arms"),
    "mass_kg": mark("Body mass"),
    "height_m": mark("Height"),
    "weight_kg": mark("A weight at home"),
    "usual": mark("Usual morning pain"),
    "start_rung": mark("Rung to begin on"),
    "reps": mark("Reps of a warm-up movement"),
    "seconds_each": mark("Time of one warm-up movement"),
    "sessions": mark("Sessions entered for a day on paper"),
    "done": mark("Work done of the work asked, entered for a day on paper"),
    "rating": mark("A rating of pain"),
}

FIGURES = {
    "STANDARD_GRAVITY": mark("Gravity"),
    "POUND": mark("One pound"),
    "HAND_MASS_FRACTION": mark("Mass of the hand"),
    "HAND_CENTRE_FRACTION": mark("Where the hand's mass is centred"),
    "HAND_LENGTH_FRACTION": mark("Length of the hand"),
    "GRIP_FRACTION": mark("Middle of the grip"),
    "GRIPPED_FLEXION": mark("Flexion while gripping"),
    "GRIPPED_EXTENSION": mark("Extension while gripping"),
    "RADIAL_DEVIATION": mark("Motion to the thumb's side"),
    "ULNAR_DEVIATION": mark("Motion to the little finger's side"),
    "MAXIMUM_MOMENT": mark("Greatest moment of the wrist, mean of ten healthy men"),
    "FEMALE_STRENGTH_RATIO": mark("Women's wrist strength"),
    "WARN_SHARE_OF_MAXIMUM": mark("Peak moment from which the practitioner is warned"),
    "HEAVIER_RISE": mark("Most that a heavier weight raises the work"),
    "SIDE_SHARE": mark("Reps of the two side-to-side directions"),
    "SIDE_REPS_AT_LEAST": mark("Fewest reps to a side, short sessions apart"),
    "FIRST_WEEK_DAYS": mark("Length of the first week"),
    "FIRST_DAYS": mark("First days, with the smallest doses"),
    "FIRST_DAYS_WORK": mark("Most work of a day in the first days"),
    "FIRST_WEEK_WORK": mark("Most work of a day in the rest of the first week"),
    "FIRST_CLIMBED_DAY": mark("Earliest day with a climbed dose"),
    "SET_GROWTH": mark("Most that a set grows when short sessions come together"),
    "ENOUGH_DONE": mark("Share of the work that counts as enough"),
    "OWED_DAYS": mark("Settled days owed after a release, before any increase"),
    "HOLD_AFTER_REST_DAYS": mark("Day of rest that becomes a hold"),
    "USUAL_BY_HAND": mark("Usual pain from which only the practitioner raises a rung"),
    "RANGE_BY_EASE": mark("Range of motion, by steps of ease"),
    "SHORT_SHARE": mark("Reps when the client takes the short way"),
    "SHORT_REPS_AT_LEAST": mark("Fewest reps on the short way"),
    "BEFORE_SPORT_SHARE": mark("Reps of the warm-up before sport"),
    "LONGER_PAUSES": mark("Longest pauses that a client may set"),
    "HOLD_STEP": mark("Time by which a stretch grows with each settled day"),
    "SHARP_RATING": mark("Rating that counts as sharp"),
    "FLARED_RATING": mark("Rating that counts as flared"),
    "FLARED_RISE": mark("Rise of a morning that counts as flared"),
    "FLARED_FROM": mark("Lowest morning at which a rise counts as flared"),
    "FLARED_OVER_USUAL": mark("Distance from the usual morning that counts as flared"),
    "FLARED_OVER_USUAL_FROM": mark("Lowest morning at which that distance counts as flared"),
    "SORE_OVER_USUAL": mark("Distance from the usual morning that is still let pass on a day of rest"),
    "SETTLED_MORNING": mark("Highest morning that is calm, whatever the usual one"),
    "IMPORTANT_POINTS": mark("Change in pain that matters, in points"),
    "IMPORTANT_SHARE": mark("Change in pain that matters, as a share"),
}
FIGURE_PARTS = {
    "female": mark("women"),
    "male": mark("men"),
    "flexion": mark("flexion"),
    "extension": mark("extension"),
    "radial": mark("to the thumb's side"),
    "ulnar": mark("to the little finger's side"),
    "0": mark("no ease"),
    "1": mark("one step"),
    "2": mark("two steps"),
}

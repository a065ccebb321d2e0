"""What the trial of all populations says. May know the ids of populations, kinds and numbers; nothing else."""

from webapp.words.catalogue import mark

HEAD = mark("%(weeks)s weeks, %(clients)s virtual clients of each kind for each of the seeds %(seeds)s (%(dice)s).")
GOAL = mark(
    "Goal: in a day the work of %(reps)s lifts of %(load)s lb, at any weight; its day is the first on which it was done."
)
THREES = mark("Three numbers each: fragile, middling, robust. Every population is invented.")
FELT = mark(
    "Flare days are counted by what the arm really felt, whatever was reported, for each client. The plan on paper is the "
    "gentlest that reaches the goal: 10 lifts with 1 lb, a pound more every two weeks. Our ladder goes on beyond the goal, "
    "that plan stops at it; up to the goal both compare."
)
STILL = mark(
    "Standing still: four weeks or more without a climb, below the goal. Offers taken up: the practitioner takes up what "
    "the review offers; otherwise the practitioner only ends holds."
)
WHO = mark("clients")
NEVER = mark("never")
COLUMNS = {
    "ours.flare_days": mark("flare days"),
    "paper.flare_days": mark("on paper"),
    "ours.flare_days_to_goal": mark("flare days up to the goal"),
    "paper.flare_days_to_goal": mark("on paper up to the goal"),
    "ours.goal_day": mark("day of the goal"),
    "ours.standing_still": mark("standing still"),
    "acting.standing_still": mark("standing still, offers taken up"),
    "acting.flare_days": mark("flare days, offers taken up"),
}
KINDS = {"fragile": mark("the fragile"), "middling": mark("the middling"), "robust": mark("the robust")}
POPULATIONS = {
    "ordinary": mark("ordinary"),
    "late-peak": mark("soreness peaks on day 3"),
    "skipping": mark("skip three sessions in ten"),
    "rates-nothing": mark("rate nothing"),
    "rates-mornings": mark("rate mornings only"),
    "half-done": mark("do half of each session"),
    "under-reporters": mark("report 3 points too little"),
    "over-reporters": mark("report 2 points too much"),
    "aching": mark("ache of 4 in every session, calm mornings"),
    "too-low": mark("usual pain 3, agreed as 2"),
    "far-too-low": mark("usual pain 3, agreed as 1"),
    "high-usual": mark("usual pain 5 that never falls"),
    "never-adapts": mark("never adapt"),
}
LIMITS = mark("Figure and limit with each seed:")
PAIR = mark("%(figure)s of at most %(limit)s")
HOLDS = mark("holds: %(population)s, %(kind)s, %(number)s: %(pairs)s")
FAILS = mark("does not hold: %(population)s, %(kind)s, %(number)s: %(pairs)s")

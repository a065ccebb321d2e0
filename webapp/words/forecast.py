"""What a forecast says to a practitioner, and what the command line says about it.

May know the ids of kinds, plans and subjects; nothing of how they come about.
"""

from babel.numbers import format_decimal, format_percent

from webapp.words.catalogue import Words, mark

SIMULATION = mark("Simulation, not a promise.")
MODEL = mark(
    "Virtual clients of the fitness-fatigue form, published for sport performance and never validated for soreness; the "
    "spreads between them are invented. One arm; nobody's own course can be read from it."
)
HARDIER = mark(
    "In the trials behind the first and the third plan on paper most people kept up 45 lifts a day from the first day. "
    "The virtual clients are made far more easily sore than that: trust the order of the plans before their sizes."
)
HEAD = mark("%(weeks)s weeks, %(clients)s virtual clients of each kind, seed %(seed)s (%(dice)s).")
COMPARE_HEAD = mark(
    "%(weeks)s weeks, %(clients)s virtual clients of each kind, seed %(seed)s (%(dice)s); 95 %% intervals in brackets."
)
GOAL = mark("Goal: in a day the work of %(reps)s lifts of %(load)s lb, at any weight, the day then settled.")

NOT_WITHIN = mark(
    "With these weights and reps the ladder ends below the goal, so under our rules it is never reached; look at the "
    "other columns, or choose a nearer goal."
)
BANDS = mark("Three numbers each: the 10th, the 50th and the 90th of a hundred clients.")
DRAWN = mark("The line is the middle client of a hundred; the band reaches from the 10th to the 90th.")

KINDS = {
    "fragile": mark("Fragile"),
    "middling": mark("Middling"),
    "robust": mark("Robust"),
}
SUBJECTS = {
    "rung": mark("rung"),
    "work_j": mark("work, J a day"),
    "morning": mark("morning pain"),
    "rest_share": mark("days at rest, %"),
}
WEEK = mark("week")
NEVER = mark("%(weeks)s+")
RANGE = mark("%(middle)s (%(low)s–%(high)s)")
FLARES_LINE = mark("Flare days for each client: %(flares)s. Capacity gained: %(gained)s.")
GOAL_LINE = mark("Weeks to the goal, 10th, 50th and 90th: %(first)s, %(middle)s, %(last)s.")

COLUMNS = {
    "plan": mark("plan"),
    "flare_days": mark("flare days"),
    "weeks_to_settle": mark("weeks to goal"),
    "capacity_gained": mark("capacity"),
    "settled_at_goal_share": mark("there"),
}
PLANS = {
    "our-rules": mark("our rules"),
    "weekly-step": mark("0.1 kg a week"),
    "when-easy": mark("more when easy"),
    "three-fifteens": mark("3 × 15"),
    "tenth-weekly": mark("a tenth a week"),
    "pound-a-fortnight": mark("1 lb a fortnight"),
    "reps-weekly": mark("2 reps a week"),
    "no-exercise": mark("no exercise"),
}
PLANS_TOLD = {
    "our-rules": mark("the routine as given, dosed from each morning's report"),
    "weekly-step": mark("3 × 15 daily from 1 kg (women) or 2 kg (men), 0.1 kg more every week: the 2011 trial"),
    "when-easy": mark(
        "twice 10 with 1 lb, a pound more once they are easy, a pound less when a morning rose: the 2008 article"
    ),
    "three-fifteens": mark("3 × 15 daily as in 2010, here with 1 lb throughout"),
    "tenth-weekly": mark("3 × 5 from 1 lb, a tenth more weight every week: a 2001 series, from memory"),
    "pound-a-fortnight": mark("10 with 1 lb, a pound more every two weeks: a common sheet"),
    "reps-weekly": mark("10 with 1 lb, two more lifts every week: a common sheet"),
    "no-exercise": mark("nothing asked, for reference"),
}
BETTER = {
    "fewer_flare_days": mark("Fewer flare days than under our rules: %(plans)s."),
    "sooner": mark("Sooner at the goal than under our rules: %(plans)s."),
    "more_capacity": mark("More capacity gained than under our rules: %(plans)s."),
}

COMMAND = mark("run virtual clients through a routine, to see a band of likely weeks; a simulation, not a promise")
OPTIONS = {
    "--routine": mark("the routine, TOML"),
    "--client": mark("the client, TOML"),
    "--clients": mark("virtual clients of each kind, 10 to 5000 (default 500)"),
    "--weeks": mark("weeks to look ahead, 1 to 52 (default 12)"),
    "--seed": mark("the seed of the dice, 0 to 4294967295 (default 1); the same seed gives the same answer"),
    "--compare": mark("put our rules beside plans on paper, the same virtual clients under each"),
    "--populations": mark(
        "run clients who skip, rate nothing, report too little and the like, with three seeds from --seed on, "
        "and print figures beside limits"
    ),
    "--goal-lb": mark("the goal's weight in pounds, 0 to 11 (default 3)"),
    "--goal-reps": mark("the goal's lifts in a day, 1 to 50 (default 15)"),
    "--json": mark("print one JSON object instead of a table"),
    "--svg": mark("write the bands as a drawing to this file"),
}
WRITTEN = mark("%(path)s is written. Simulation, not a promise.")
CANNOT_WRITE = mark(
    "%(path)s cannot be written (%(why)s); name a file in a folder that is there and may be written to."
)
LACKS = mark(
    "A forecast needs %(package)s, which is not installed. Install this project with its forecast extra, then run this again."
)
BANDS_ONLY = mark("--svg draws the bands; leave out --compare and --populations, or ask for --json.")


def decimal_text(words: Words, value: float, digits: int = 1) -> str:
    """Write a number with so many decimals."""
    return format_decimal(round(value, digits), format="0." + "0" * digits if digits else "0", locale=words.cldr)


def share_text(words: Words, value: float) -> str:
    """Write a share as whole per cent."""
    return format_percent(round(value, 2), locale=words.cldr)

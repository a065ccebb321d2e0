"""The numbers of the review and its offers that are not limits of its table, each with its unit and source."""

from webapp.dosing.figures import Figure

STANDSTILL_DAYS = Figure(10, "days without a climb", "own-choice")
QUIET_DAYS = Figure(10, "days without a flare or a sign", "own-choice")
MORNINGS_COMPARED = Figure(5, "mornings, held against as many before them", "own-choice")
FEW_DAYS = Figure(2, "days of a fortnight, too few to be a cause", "own-choice")
FEWEST_MORNINGS = Figure(3, "mornings that a week's median needs", "own-choice")
FEWEST_ANSWERS = Figure(10, "ratings of one kind before they make a pattern", "own-choice")
WORK_GROWN = Figure(2, "times the day's work", "own-choice")
PAUSE_DAYS = Figure(28, "days between two changes of the usual pain or the ceiling", "own-choice")
MOST_CEILING_BY_TAP = Figure(4, "of 10", "own-choice")

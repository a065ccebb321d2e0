"""What the measuring of the program's own speed says of itself. May know nothing of what is measured."""

from webapp.words.catalogue import mark

COMMAND = mark("measure the program's own speed")
CORE = mark("measure the dosing core and the forecast, and print the figures as JSON")
FLOOR = mark(
    "one dictionary look-up in a bare loop, in the same run; times_the_floor is how many of them one thing costs"
)
NOISE = mark("processor time, the median of five rounds; other work on the machine still slows it")
DAY = mark("day")
CLOSED_DAY = mark("one state and one response")
CLIENT_DAY = mark("day of one virtual client")

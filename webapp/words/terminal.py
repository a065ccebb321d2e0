"""What the command line says about itself.

May know the commands by name; nothing of what they do inside.
"""

from webapp.words.catalogue import mark

ABOUT = mark("Halfturn: daily wrist work at home, dosed from next-day soreness.")

COMMANDS = {
    "serve": mark("serve the client's phone and the practitioner's site; `halfturn serve --help` names every setting"),
    "migrate": mark("make the database of HALFTURN_DB, or bring it up to date"),
    "dose": mark("say what a day asks of each arm, from a diary typed in from paper"),
    "explain": mark("tell a diary day by day: the response of each day, the numbers behind it, and what followed"),
    "ladder": mark(
        "print the ladder: each rung's weight, reps, work, rise and peak, and each jump with what bridges it"
    ),
    "practitioner": mark("practitioners' accounts"),
    "practitioner add": mark("make an account that can sign in"),
    "practitioner password": mark("set another password for somebody whose own is lost"),
    "practitioner role": mark("make somebody an owner or a member of their practice"),
}

DOSE_OPTIONS = {
    "--routine": mark("the routine, TOML"),
    "--client": mark("the client, TOML"),
    "--diary": mark("the diary, CSV"),
    "--on": mark("the day to print the dose of, YYYY-MM-DD; the days before it are closed"),
    "--json": mark("print one JSON object instead of words"),
}

DOSE_MORE = mark(
    "Each arm begins on the day of its first row. A day in between without a row\n"
    "counts as a day without a session. All faults are printed together, on standard error,\n"
    "and nothing else is printed; the exit code is then 2."
)
RANGES = mark("Numbers, their ranges, and their value when left out")
RANGE = mark("from %(low)s to %(high)s (%(unit)s)")

FILES = {
    "routine": mark("The routine file"),
    "client": mark("The client file"),
    "diary": mark("The diary file"),
}

MIGRATED = mark("%(path)s is up to date.")

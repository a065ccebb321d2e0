"""The sentences of `halfturn bench` and `halfturn trial`. Knows nothing of what is measured."""

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

SERVER = mark("measure the caseload, a case page and syncs in this process, and print the figures as JSON")
SERVER_CLIENTS = mark("how many clients the caseload has (default 300)")
SERVER_DAYS = mark("for how many days each of them has trained (default 365)")
SERVER_FLOOR = mark(
    "a bare Flask in the same run: pages and empty syncs stand beside a view that says hello, syncs with entries beside a "
    "view that stores three entries in one commit; a sync on a way back stands beside the same sync without one"
)
SERVER_NOISE = mark("the middle of several rounds; the processor's time holds better than the wall's on a busy machine")
CROWD = mark("start a server and measure how long a phone waits for a page among strangers and a busy desk, as JSON")
CROWD_METHOD = (
    mark("A real server process; one connection asks for the app's page again and again; milliseconds on the wall."),
    mark(
        "Strangers: eight requests that never send their body's end. Desk: four browsers that load desk pages without pause."
    ),
    mark(
        "The floor is the same page in the same run with nobody else there; other work on the machine slows all of it."
    ),
)
TRIAL = mark("long trials of the whole program")
KILLS = mark(
    "start a real server, let phones write, kill it without warning, copy it and put copies back, over and over; print as"
    " JSON how many acknowledged entries were lost or doubled and what came alive again (all must be 0)"
)
KILLS_ROUNDS = mark("how often to kill (default 100)")
KILLS_SEED = mark("decides what is written and how long each server lives")
KILLS_OLD = mark("have the server use Python's own SQLite, with a rollback journal where that one has the log's fault")

START = mark("open the app cold, slowed and with no network, and print how soon the dose was shown, as JSON")
START_ROUNDS = mark("how often to start it for each length of the log (default 5)")
START_METHOD = (
    mark("A real Chromium with a profile on the disk and its main thread slowed; no server runs while it is measured."),
    mark(
        "Start: from the beginning of the navigation to the painting of the dose, by element timing; each in a new process."
    ),
    mark("Taps: from the tap to the frame after the one that shows what it asked for."),
    mark("The floor is the same page of the same profile with its scripts switched off."),
)
SESSION = mark("play a session in a real browser, slowed down, and print how late tones and screen were, as JSON")
SESSION_SECONDS = mark("how much of the session to play, in seconds (default 600)")
SESSION_SLOWED = mark("how many times slower the page's processor is made (default 6)")
NO_BROWSER = mark(
    "This bench needs %(what)s: install the test extra of this project, and Chromium so that it is on PATH."
)
SESSION_FLOOR = mark(
    "a bare page in the same browser, slowed alike, that moves as many lines in each frame as a picture of the session has "
    "and writes one text four times a second when it is due"
)
SESSION_METHOD = (
    mark("A real server process, a real Chromium with its main thread slowed, one session played in real time."),
    mark(
        "Tones: onsets in the signal itself, to the sample, against the cue sheet on the audio clock within each layout."
    ),
    mark(
        "How far the audio clock came away from the session's is told as its hardware told it. Where that is over 20 ms, the "
        "tones still to come are moved; each move is told, and counts as an error of the sheet."
    ),
    mark("Screen: the moment after the frame in which a due change of name, numeral or phase words was painted."),
    mark("Due times are worked out from the cue sheet alone; the start from what the session wrote to storage."),
    mark(
        "Drift: the middle lateness of the last fifth less that of the first. Other work on the machine slows all of it."
    ),
)

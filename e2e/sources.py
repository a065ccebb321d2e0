"""The app's own modules, as a story asks them in a page: the page itself holds them in packed form only."""

from functools import cache

from webapp.packing import plain_script

ASKED = (
    "edges/clock.js",
    "edges/storage/store.js",
    "edges/sound/tone_notes.js",
    "drawing/wrist_drawing.js",
    "pure/drawing/drawn_movements.js",
    "pure/session/pacer.js",
)


@cache
def modules() -> str:
    """A script that lays the exports of what is asked into `halfturnModules`."""
    return plain_script(ASKED, "halfturnModules")

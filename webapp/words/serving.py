"""What `halfturn serve` says: its settings, its recipes, and why it cannot start.

May know the settings by name; nothing of how they are used.
"""

from typing import NamedTuple

from webapp.words.catalogue import mark


class SettingWords(NamedTuple):
    """A setting as the help shows it; the meaning may have several lines."""

    meaning: str
    default: str
    example: str


SETTINGS_TITLE = mark("settings, read from the environment:")
DEFAULT = mark("left out: %(value)s")
EXAMPLE = mark("example: %(value)s")
SETTINGS = {
    "HALFTURN_DB": SettingWords(
        mark("the database, one SQLite file; its folder must exist. One server at a time serves it."),
        mark("halfturn.sqlite3 in the present folder"),
        "/srv/halfturn/halfturn.db",
    ),
    "HALFTURN_ORIGIN": SettingWords(
        mark(
            "the address that people type: scheme, host and perhaps a port. Requests for\n"
            "another host are refused. Phones keep the app only over https or on localhost."
        ),
        "http://127.0.0.1:8765",
        "https://wrist.example",
    ),
    "HALFTURN_LISTEN": SettingWords(
        mark("the address and the port of this machine to listen on, as numbers or with localhost"),
        mark("those of HALFTURN_ORIGIN where it is http with localhost or a number;\notherwise 127.0.0.1:8765, for a proxy on this machine"),
        "127.0.0.1:9000",
    ),
    "HALFTURN_PROXIES": SettingWords(
        mark(
            "how many proxies stand in front, one behind the other. Each adds the address that\n"
            "it was asked from to X-Forwarded-For, and so many of them are believed.\n"
            "Too few: everybody seems to come from the proxy, and one stranger's wrong guesses\n"
            "make everybody wait. Too many: a stranger can invent an address, and guess on."
        ),
        "0",
        "1",
    ),
    "HALFTURN_LOCALES": SettingWords(
        mark("the languages served, the default first, with commas between"), "en", "en,es"
    ),
}  # fmt: skip
RECIPE = mark(
    "print a file that serves these settings and stop: a Caddyfile, an nginx site, or a unit of systemd; the top of each says where it goes"
)
RECIPE_NEEDS_HTTPS = mark(
    "HALFTURN_ORIGIN is %(origin)s; a proxy's recipe needs the https address that people will type, such as"
    " HALFTURN_ORIGIN=https://wrist.example"
)
NO_LANGUAGE = mark(
    "HALFTURN_LOCALES names a language that is not installed: %(tags)s. Take it out, or put its file into content/locale."
)
STARTED = mark("Halfturn is at %(origin)s and listens on %(host)s port %(port)d. Ctrl-C ends it.")
NO_PROXY = mark(
    "Warning: HALFTURN_ORIGIN is https, so a proxy stands in front, but HALFTURN_PROXIES is 0: everybody seems to come from the proxy. "
    "Set HALFTURN_PROXIES to the number of proxies, mostly 1."
)
PORT_TAKEN = mark(
    "Another program already listens on %(host)s port %(port)d. End that program, or set another port in HALFTURN_LISTEN."
)
CANNOT_LISTEN = mark(
    "Cannot listen on %(host)s port %(port)d (%(why)s): name an address of this machine, and a port over 1023, in HALFTURN_LISTEN."
)
SERVED_ALREADY = mark(
    "%(path)s is being served by another process already: end that one, or name another file in HALFTURN_DB."
)

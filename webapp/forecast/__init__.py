"""Virtual clients run a routine forward, so that a practitioner sees a band of likely weeks before pushing it.

A simulation, not a promise. May know the core and numpy, and throws its own seeded dice; the
core knows nothing of it. Only the command line, the bench and the practice room may ask it.
"""

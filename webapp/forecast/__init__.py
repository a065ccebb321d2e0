"""Virtual clients run a routine forward, so that a practitioner sees a band of likely weeks before pushing it.

A simulation, not a promise. Imports the core and numpy, and draws random numbers from a seed.
Only the command line, the bench and the practice room may import it.
"""

"""The return ladder: back to the client's own sport or work, step by step, as a second automaton of the core.

It reads how each day was classed and never changes what the exercises ask. Pure, as all of the core. All of its numbers are our own choice.
"""

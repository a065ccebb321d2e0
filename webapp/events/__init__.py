"""The facts: what a client's phone and the practitioner's desk have put on record.

This room is pure: kinds of events, their coding, and what they add up to by day. It may know
the standard library and nothing else, and nobody else in the project.
"""

"""The facts: events that a client's phone and the practitioner's desk have put on record.

This room is pure: kinds of events, their coding, and what they add up to by day. It imports
the standard library only, and no other room of the project.
"""

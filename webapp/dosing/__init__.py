"""The decision: what one day asks of one arm, worked out from how the days before went.

This room is pure. It may know the facts of a day and nothing else: no clock, no file,
no environment, no database, no dice and no sentence meant for a person.
"""

"""The only room that speaks SQL: one module for each subject. It returns frozen values, never raw rows.

It decides nothing, and never updates or deletes an event.
"""

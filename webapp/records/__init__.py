"""The only room that speaks SQL: one module for each subject, frozen values out, never a row.

Never decides, and never updates or deletes an event.
"""

"""The rule book: every rule, number and basis that the program runs on, as one page for a clinician to review and sign.

Imports the core's tables, the content and the words; no database and no web. No room that serves a client imports it.
"""

"""The rule book: every rule, number and basis that the program runs on, as one page for a clinician to review and sign.

May know the core's tables, the content and the words; no database and no web. Nothing that serves a client knows it.
"""

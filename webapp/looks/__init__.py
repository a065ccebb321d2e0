"""The looks: every token and every part of the pages, by day and by night, on one page for those who build them.

Imports the words and the folder of sources; no database, no web and no core. The server does not import it.
"""

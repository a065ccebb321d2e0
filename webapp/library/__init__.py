"""Content and people's own files, read into the core's values.

This room may know files and their faults; it holds no limit of its own (the core does),
no sentence for a person (words does), and accepts no file with any fault.
"""

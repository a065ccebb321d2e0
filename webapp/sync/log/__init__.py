"""The log: storing what phones and the practice write, and reading it day by day."""

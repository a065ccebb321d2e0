"""The checks behind the rows of the review. Pure, like the rest of the core; no finding changes a dose."""

"""What each row of the review looks for. Pure, as the rest of the core; no finding changes a dose."""

"""One client beside the dose: holds and releases, screening, the course, letters, notes."""

"""How much a phone may send in a day, and how often a secret may be tried."""

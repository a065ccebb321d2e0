"""What a practitioner can do on a case beside the routine: ease, start over, rest until a day. The forms, and what each would change."""

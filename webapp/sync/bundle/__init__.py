"""What a phone carries: the bundle, its parts, and the plans and rehearsals of a routine version."""

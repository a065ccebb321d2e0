"""Parts of several forms: quantities as people type them, fields with their faults, common entries and checks."""

"""What is computed of each client for the caseload, and the checks of all that is computed."""

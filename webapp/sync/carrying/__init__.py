"""Carrying clients out of the records, as our own JSON, as a table and as FHIR, and into other records from our own JSON."""

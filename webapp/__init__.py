"""Halfturn: daily wrist work at home, dosed from next-day soreness."""

__version__ = "0.1.0"

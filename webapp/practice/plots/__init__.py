"""Plots of a client's days: values into coordinates. Templates draw them as SVG.

Across, one unit is one day, from the left to the right. Down, each track has a scale of its own.
"""

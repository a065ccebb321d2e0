"""Folding the log through the dosing core: progress of each arm, anchors, checkpoints, the review."""

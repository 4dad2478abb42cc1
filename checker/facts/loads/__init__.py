"""Loads: what the drawing says of them, the calculations of the documents in force, and what lands on each source."""

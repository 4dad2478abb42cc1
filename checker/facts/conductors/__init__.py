"""Conductors: what the drawing says of a run, and what its conductors carry by the documents in force."""

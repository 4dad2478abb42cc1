"""Fault currents: from each source, past transformers and runs, and what they mean for ratings and for tripping."""

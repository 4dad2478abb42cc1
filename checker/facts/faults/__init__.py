"""Fault currents along the runs: ways from a source, what each run adds, and what is left at the end."""

"""Fuel: the gas line from meter to set, what is asked of it and what it carries, and tanks."""

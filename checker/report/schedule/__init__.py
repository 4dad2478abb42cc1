"""A schedule as text, page and data."""

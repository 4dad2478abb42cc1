"""Reads one written value, wherever it stands, as a value of a fact of the catalog."""

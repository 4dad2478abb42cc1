"""The papers of a job: list and data."""

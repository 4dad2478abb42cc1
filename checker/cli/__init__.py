"""Commands; the only place that prints."""

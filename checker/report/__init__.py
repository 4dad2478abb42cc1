"""Results laid out as text and as data; nothing is decided here."""

"""Facts on demand: what the drawing says, and what follows from it."""

"""The place: sound, distances, working space, enclosures."""

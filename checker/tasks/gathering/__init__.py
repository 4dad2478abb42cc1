"""Packs, layers, profiles and towns read from their folders, and what stands in them on a date."""

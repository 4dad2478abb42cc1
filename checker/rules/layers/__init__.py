"""Layers: what an authority changes in the rules that lie below it."""

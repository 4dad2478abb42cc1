"""Packs, rules and profiles read from YAML: names, values, conditions, texts, each with its place."""

"""The JSON Schemas of packs, cases, layers and profiles, made from the fact catalog."""

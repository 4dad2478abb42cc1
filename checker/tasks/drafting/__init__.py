"""Drafts a layer and a profile from a few answers, with cases beside it."""

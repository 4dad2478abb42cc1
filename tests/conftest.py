"""Settings that all tests share."""

from __future__ import annotations

from hypothesis import settings

# Time is measured in benchmarks/; a slow machine must not fail a property.
settings.register_profile("usual", deadline=None)
settings.load_profile("usual")

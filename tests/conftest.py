"""Settings that all tests share."""

from __future__ import annotations

import os

from hypothesis import settings

from checker.files.cache import SWITCH

# Tests read the files themselves and leave the cache of whoever runs them alone; those of the cache bring their own.
os.environ[SWITCH] = "1"

# Time is measured in benchmarks/; a slow machine must not fail a property.
settings.register_profile("usual", deadline=None)
settings.load_profile("usual")

"""Settings that all tests share."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from checker.files.cache import SWITCH

# Time is measured in benchmarks/; a slow machine must not fail a property.
settings.register_profile("usual", deadline=None)
settings.load_profile("usual")

_CACHES, _WORKER = "XDG_CACHE_HOME", "workerinput"


def pytest_configure(config: pytest.Config) -> None:
    """One cache for one run: its first process reads the packs from their files, and all others take up what it has
    worked out. The cache of whoever runs the tests is left alone; tests of reading and of the cache bring their own.
    """
    if hasattr(config, _WORKER):
        return
    folder = Path(tempfile.mkdtemp(prefix="standby-checker-tests-"))
    os.environ.pop(SWITCH, None)
    os.environ[_CACHES] = str(folder)
    config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))

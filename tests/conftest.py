"""Settings that all tests share."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from checker.files.cache import SWITCH

# Time is measured in benchmarks/; a slow machine must not fail a property.
settings.register_profile("usual", deadline=None)
settings.load_profile("usual")

THRESHOLDS = (50_000, 20, 20)
"""How many new things make the collector look for cycles: frozen values make none, and there are very many of them."""

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


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """All tests of a file in one process, so that what they share is worked out there and not in every process."""
    from xdist.scheduler import LoadFileScheduling

    return LoadFileScheduling(config, log)


def pytest_collection_finish() -> None:
    """What was imported stays to the end, so the collector of cycles need not walk over it again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(*THRESHOLDS)

"""Pages looked at in a browser without a screen, by the program beside this module."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
PATIENCE = 600


class NotInstalled(Exception):
    """The browser or what drives it is not there; the text says how to get it."""


def looked_at(pages: Sequence[Path]) -> Mapping[str, Mapping[str, Mapping[str, Any]]]:
    """What is wrong with each page, by its path and by how it is looked at: light, dark, phone, print.

    Each core of the machine has a browser of its own.
    """
    if not (HERE / "node_modules").is_dir():
        raise NotInstalled("What drives the browser is not there: npm ci --prefix tests/browser")
    command = (_program("node"), str(HERE / "check.mjs"), _program("chromium"))
    browsers = min(os.cpu_count() or 1, len(pages))
    with ThreadPoolExecutor(browsers) as pool:
        parts = pool.map(lambda share: _looked_at_by_one(command, share), [pages[i::browsers] for i in range(browsers)])
        return {path: looks for part in parts for path, looks in part.items()}


def _looked_at_by_one(command: Sequence[str], pages: Sequence[Path]) -> Mapping[str, Mapping[str, Mapping[str, Any]]]:
    done = subprocess.run(
        [*command, *map(str, pages)], cwd=HERE, capture_output=True, text=True, timeout=PATIENCE, check=False
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert isinstance(told, dict)
    return told


def _program(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        raise NotInstalled(f"{name} is not installed; the package of that name has it.")
    return found

"""Command lines on the invented town of ``town/``, whose model code is a small pack of its own, so that what they print
does not change with the real packs.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.files.cache import NO_CACHE
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.packs import read_packs

HERE = Path(__file__).parent
TOWN, GOLDEN = HERE / "town", HERE / "golden"
PLACE = "osprey-point"
PROFILE, STATE, CODE = f"{PLACE}.yaml", "sound-state.yaml", f"{PLACE}-code.yaml"

AT = ("--jurisdiction", PLACE, "--folder", PLACE)

RUNS: dict[str, tuple[str, ...]] = {
    "list": ("rules", "list"),
    "list-in-force": ("rules", "list", *AT, "--date", "2025-07-01"),
    "compare-dates": (
        "rules",
        "compare",
        "--jurisdiction",
        PLACE,
        "--date",
        "2025-06-30",
        "--to-date",
        "2025-07-01",
        PLACE,
    ),
    "compare-editions": (
        *("rules", "compare", "--document", "Harbor Code", "--edition", "2020", "--to-edition", "2023"),
        *("--folder", PLACE, PLACE),
    ),
    "explain": ("rules", "explain", "switch-large-enough"),
    "explain-in-force": ("rules", "explain", "switch-listed", *AT, "--date", "2025-07-01"),
    "explain-on-site": ("rules", "explain", "set-clear-of-openings", "--site", PLACE, "--date", "2025-07-01"),
    "lint": ("rules", "lint", PLACE),
    "test": ("rules", "test", PLACE),
    "packs": ("packs", PLACE),
}
"""Each golden file with the command line that prints it."""


def small_library() -> Library:
    """The small model code as if it came with the program."""
    packs = TOWN / "packs"
    return Library(read_packs(packs, shipped_catalog(), NO_CACHE), packs / "profiles", NO_CACHE)


def copy_town(folder: Path) -> Path:
    """The town in a folder of its own, where a test can change it."""
    return Path(shutil.copytree(TOWN / PLACE, folder / PLACE))

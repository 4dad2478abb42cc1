"""The commands for signs and papers whose print is kept."""

from __future__ import annotations

from tests.project.project_tree import ROOT

HARROW, HERON, MARSH = (str(ROOT / "fixtures" / name) for name in ("harrow-lane", "heron-cottage", "marsh-ferry"))
KEPT = {
    "labels-harrow-lane.txt": ("labels", HARROW),
    "labels-marsh-ferry-2023.txt": ("labels", MARSH, "--jurisdiction", "nec-2023"),
    "labels-marsh-ferry-2023.svg": ("labels", MARSH, "--jurisdiction", "nec-2023", "--format", "svg"),
    "submittal-harrow-lane.txt": ("submittal", HARROW),
    "submittal-marsh-ferry.txt": ("submittal", MARSH),
}
"""What is kept in ``golden/``, with the command that prints it."""

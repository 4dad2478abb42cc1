"""Published checks as they are kept: read from a file, compared with what our own calculation gives."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import yaml

Check = dict[str, Any]
Found = Fraction | str


def checks(path: Path) -> list[Check]:
    read: list[Check] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return read


def name_of(check: Check) -> str:
    return str(check["id"])


def agrees(check: Check, found: Found) -> bool:
    """Words agree where they are the same, numbers within the tolerance of the source."""
    expected = check["expected"]
    if isinstance(found, str):
        return found == str(expected["value"])
    return abs(found - Fraction(str(expected["value"]))) <= Fraction(str(expected["tolerance"]))


def repeats_the_print(check: Check, found: Found) -> bool:
    """Whether a wrong print was come to after all."""
    assert isinstance(found, Fraction)
    return abs(found - Fraction(str(check["printed"]))) <= Fraction(str(check["expected"]["tolerance"]))

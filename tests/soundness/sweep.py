"""Goes through the cases that belong to numbers, and shows the first that fails, made smaller."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.generators.cases import Case, seeded_case, smaller_case
from tests.soundness.budget import IS_QUICK, seeds

Violations = Callable[[Case], list[str] | None]
"""What is wrong with a case; None for a case that is set apart."""

_MOST_SET_APART = 4
"""One case of so many may be set apart."""


def sweep(how_many: int, violations: Violations) -> None:
    """Fails at the first case with a violation, and where too many cases are set apart."""
    apart = 0
    for seed in seeds(how_many):
        found = violations(seeded_case(seed))
        apart += found is None
        if found:
            _show(seed, found, violations)
    assert apart * _MOST_SET_APART <= len(seeds(how_many)), f"{apart} cases were set apart"


def _show(seed: int, found: list[str], violations: Violations) -> None:
    if IS_QUICK:
        pytest.fail(f"case {seed}: {found[0]}")
    small = smaller_case(seed, lambda case: bool(violations(case)))
    told = violations(small) or found
    pytest.fail("\n".join([f"Case {seed}, made smaller:", repr(small), *told]))

"""Which stated figures are held against what is worked out: one that a wide span happens to hold is not."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.facts.figures import figure_subjects
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from tests.facts.reading import view_under
from tests.facts.test_dwelling_loads import BASE, HOUSE

FIGURE = Subject("figure", "GEN1.automatic_load")


def figures(folder: Path, library: Library, **but: str) -> tuple[Subject, ...]:
    return figure_subjects(view_under("nec-2020", HOUSE.format(**{**BASE, **but}), folder, library))


@pytest.mark.parametrize(
    ("stated", "but", "is_one"),
    [
        # 69.06 A by 220.82, worked by hand in test_dwelling_loads.
        ("69 A", {}, True),
        ("120 A", {}, True),
        # With a load that may be missing it is 69.06 A or more, which holds 120 A and does not hold 40 A.
        ("120 A", {"complete": "no"}, False),
        ("40 A", {"complete": "no"}, True),
        # Nothing is worked out for a set that is put on by hand.
        ("120 A", {"operation": "manual"}, False),
    ],
)
def test_a_figure_is_held_against_one_value_or_against_a_span_that_leaves_it_out(
    stated: str, but: dict[str, str], is_one: bool, tmp_path: Path, library: Library
) -> None:
    assert (FIGURE in figures(tmp_path, library, stated=f", automatic_load: {stated}", **but)) is is_one


def test_what_is_not_stated_makes_no_figure(tmp_path: Path, library: Library) -> None:
    assert FIGURE not in figures(tmp_path, library)

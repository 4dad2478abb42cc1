"""Small sites with one set, and what is possible for a fact on them."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.facts.view import View
from checker.findings.review import view_of
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import Possible


def site_view(folder: Path, library: Library, text: str, profile: str = "nec-2020") -> View:
    """The facts of a site file, with the numbers that a profile puts in force."""
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8")
    job = job_of(path, library, Overrides(profile, date(2026, 3, 14), None))
    return view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers)


def ends(value: Possible, digits: int = 2) -> tuple[Fraction | None, Fraction | None]:
    """Both ends of the numbers that are possible, rounded."""
    hull = value.hull
    assert hull is not None
    low, high = (
        None if end is None else Fraction(round(end * 10**digits), 10**digits) for end in (hull.low, hull.high)
    )
    return low, high


def load(place: int = 1) -> Subject:
    """A load by its place in the list."""
    return Subject("load", f"load {place}")

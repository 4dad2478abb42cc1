"""Where a finding stands in the files that were read."""

from __future__ import annotations

from collections.abc import Iterator

from checker.findings.finding import Finding
from checker.values.positions import Position


def place_of(finding: Finding) -> Position | None:
    """The first place that the finding looked at."""
    return next(places_of(finding), None)


def places_of(finding: Finding) -> Iterator[Position]:
    """Every place of a figure that was found, each once, in the order of the comparisons."""
    yield from dict.fromkeys(check.found.at for check in finding.checks if check.found.at is not None)

"""Where a finding stands in the files that were read."""

from __future__ import annotations

from collections.abc import Iterator

from checker.findings.finding import Finding
from checker.values.positions import Position

_OF_THE_SITE = "site."


def place_of(finding: Finding) -> Position | None:
    """The first place that the finding looked at; one of the site as a whole only where there is no other, since its
    occupancy and the like are found by hundreds of rules and tell nobody where to look.
    """
    looked = [check.found for check in finding.checks if check.found.at is not None]
    nearer = [each for each in looked if not str(each.fact or "").startswith(_OF_THE_SITE)]
    return next((each.at for each in (*nearer, *looked)), None)


def places_of(finding: Finding) -> Iterator[Position]:
    """Every place of a figure that was found, each once, in the order of the comparisons."""
    yield from dict.fromkeys(check.found.at for check in finding.checks if check.found.at is not None)

"""Which facts of places are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.sites import buildings, enclosures

DERIVATIONS = (
    entry("enclosure_serves", enclosures.ENCLOSED, enclosures.READS, enclosures.serves_there),
    entry("feeds_another_building", ("connection",), buildings.READS, buildings.feeds_another_building),
    entry(
        "neutral_may_ground",
        ("connection", "disconnect", "transfer_switch", "panelboard", "switchboard"),
        buildings.NEUTRAL_READS,
        buildings.neutral_may_ground,
    ),
)

NUMBERS = enclosures.NUMBERS
"""What of the documents in force is read here."""

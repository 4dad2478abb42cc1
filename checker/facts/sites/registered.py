"""Which facts of places are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.sites import buildings, enclosures, nearest

_LINES_AND_ENDS = ("connection", "disconnect", "transfer_switch", "panelboard", "switchboard")
_TANK = ("fuel_tank",)
_TO_BUILDING = nearest.nearest_listed(nearest.BUILDINGS, "a building")
_TO_LOT_LINE = nearest.nearest_listed(nearest.LOT_LINES, "a lot line")

DERIVATIONS = (
    entry("enclosure_serves", enclosures.ENCLOSED, enclosures.READS, enclosures.serves_there),
    entry("feeds_another_building", ("connection",), buildings.READS, buildings.feeds_another_building),
    entry("neutral_may_ground", _LINES_AND_ENDS, buildings.NEUTRAL_READS, buildings.neutral_may_ground),
    entry(
        "neutral_may_ground_without_metal",
        _LINES_AND_ENDS,
        buildings.OLD_LINE_READS,
        buildings.neutral_may_ground_without_metal,
    ),
    entry("tank_to_building", _TANK, nearest.READS, _TO_BUILDING),
    entry("tank_to_lot_line", _TANK, nearest.READS, _TO_LOT_LINE),
    entry("set_to_lot_line", ("generator",), nearest.READS, _TO_LOT_LINE),
)

NUMBERS = enclosures.NUMBERS
"""What of the documents in force is read here."""

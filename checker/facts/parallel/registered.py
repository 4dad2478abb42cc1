"""Which facts of sources beside the utility are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.parallel import bus

DERIVATIONS = (
    entry("parallel_output", bus.BOARDS, bus.READS_OUTPUT, bus.parallel_output),
    entry("bus_sum", bus.BOARDS, bus.READS_SUM, bus.bus_sum),
    entry("place_of_parallel_sources", bus.BOARDS, bus.READS_PLACE, bus.place_of_parallel_sources),
    entry("power_control_setting", bus.BOARDS, bus.READS_SETTING, bus.power_control_setting),
)

NUMBERS = bus.NUMBERS
"""What of the documents in force is read here."""

"""Which facts of sources beside the utility are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.parallel import bus, cures

DERIVATIONS = (
    entry("parallel_output", bus.BOARDS, bus.READS_OUTPUT, bus.parallel_output),
    entry("bus_protection", bus.BOARDS, bus.READS_PROTECTION, bus.bus_protection),
    entry("bus_sum", bus.BOARDS, bus.READS_SUM, bus.bus_sum),
    entry("place_of_parallel_sources", bus.BOARDS, bus.READS_PLACE, bus.place_of_parallel_sources),
    entry("power_control_setting", bus.BOARDS, bus.READS_SETTING, bus.power_control_setting),
    entry("main_wherever_they_land", bus.BOARDS, cures.READS_MAIN, cures.main_wherever_they_land),
    entry("main_opposite_the_inverters", bus.BOARDS, cures.READS_MAIN, cures.main_opposite_the_inverters),
    entry("output_that_may_stay", bus.BOARDS, cures.READS_OUTPUT, cures.output_that_may_stay),
    entry(
        "output_that_may_stay_opposite",
        bus.BOARDS,
        cures.READS_OUTPUT,
        cures.output_that_may_stay_opposite,
    ),
    entry("inverters_to_take_off", bus.BOARDS, cures.READS_TO_TAKE_OFF, cures.inverters_to_take_off),
    entry("bus_opposite_the_inverters", bus.BOARDS, cures.READS_BUS, cures.bus_opposite_the_inverters),
    entry("breakers_drawn", bus.BOARDS, cures.READS_BREAKERS, cures.breakers_drawn),
    entry("landings", bus.BOARDS, cures.READS_LANDINGS, cures.landings),
)

NUMBERS = (*bus.NUMBERS, *cures.NUMBERS)
"""What of the documents in force is read here."""

"""Which facts of sets are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.sets import adjusted_power, blocks, cranking, motors, phases, powers, site_power, sound, timing

DERIVATIONS = (
    entry("greatest_power", ("generator",), ("rated_power",), powers.greatest_power),
    entry("greatest_current", ("generator",), ("greatest_power", "system", "power_factor"), powers.greatest_current),
    entry(
        "greatest_power_on_another_fuel",
        ("generator",),
        ("rated_power", "fuel"),
        powers.greatest_power_on_another_fuel,
    ),
    entry(
        "current_on_another_fuel",
        ("generator",),
        ("greatest_power_on_another_fuel", "system", "power_factor"),
        powers.current_on_another_fuel,
    ),
    entry("capacity", ("generator",), ("power_at_site", "system", "power_factor"), powers.capacity),
    entry("automatic_start", ("generator",), ("operation",), powers.automatic_start),
    entry("power_at_site", ("generator",), site_power.READS, site_power.power_at_site),
    entry("starting_power", ("load",), motors.STARTING_READS, motors.starting_power),
    entry("share_of_set", ("load",), motors.SHARE_READS, motors.share_of_set),
    entry("dip_when_it_starts", ("load",), motors.DIP_READS, motors.dip_when_it_starts),
    entry("time_to_load", ("transfer_switch",), timing.READS, timing.time_to_load),
    entry("cranking_cycle", ("generator",), cranking.READS, cranking.cranking_cycle),
    entry("cranking_charge", ("generator",), cranking.READS, cranking.cranking_charge),
    entry("charger_output_wanted", ("generator",), cranking.READS, cranking.charger_output_wanted),
    entry("greatest_block", ("generator",), blocks.READS, blocks.greatest_block),
    entry("greatest_phase_current", ("generator",), phases.READS, phases.greatest_phase_current),
    entry("phase_imbalance", ("generator",), phases.READS, phases.phase_imbalance),
    entry("sound_at_lot_line", ("generator",), sound.READS, sound.sound_at_lot_line),
)

NUMBERS = (*adjusted_power.NUMBERS, *cranking.NUMBERS, *motors.NUMBERS, *sound.NUMBERS)
"""What of the documents in force is read here."""

"""Which facts of conductors are worked out, and from which."""

from __future__ import annotations

from checker.facts.conductors import ampacity, bonding, drop, grounding, next_device, raceway, run, wet, whole_dwelling
from checker.facts.conductors import numbers as conductor_numbers
from checker.facts.derivation import entry

DERIVATIONS = (
    entry("ampacity", ("connection",), run.READS, ampacity.ampacity(run.PHASE)),
    entry("terminal_ampacity", ("connection",), run.READS, ampacity.terminal_ampacity),
    entry("neutral_ampacity", ("connection",), (*run.READS[1:], run.NEUTRAL), ampacity.ampacity(run.NEUTRAL)),
    entry("current_carrying", ("connection",), raceway.COUNT_READS, raceway.conductors_that_carry),
    entry("raceway_fill", ("connection",), raceway.FILL_READS, raceway.fill),
    entry("conductors_in_raceway", ("connection",), raceway.FILL_READS, raceway.conductors),
    entry("conductors_that_fit", ("connection",), raceway.FIT_READS, raceway.that_fit_by_number),
    entry("grounding_wanted", ("connection",), grounding.READS, grounding.grounding_wanted),
    entry("grounding_wanted_in_copper", ("connection",), grounding.READS, grounding.grounding_wanted_in("copper")),
    entry("grounding_wanted_in_aluminum", ("connection",), grounding.READS, grounding.grounding_wanted_in("aluminum")),
    entry("voltage_drop", ("connection",), drop.READS, drop.voltage_drop(resistance_alone=False)),
    entry("voltage_drop_by_resistance", ("connection",), drop.READS, drop.voltage_drop(resistance_alone=True)),
    entry(
        "jumper_wanted",
        ("connection",),
        bonding.JUMPER_READS,
        bonding.by_phase_conductors("grounding", is_grounded=False),
    ),
    entry(
        "neutral_wanted",
        ("connection",),
        bonding.NEUTRAL_READS,
        bonding.by_phase_conductors("neutral_conductor", is_grounded=True),
    ),
    entry(
        "electrode_conductor_wanted",
        ("utility_supply", "generator"),
        bonding.ELECTRODE_READS,
        bonding.electrode_wanted,
    ),
    entry(
        "water_pipe_bond_wanted",
        ("utility_supply", "generator"),
        bonding.WATER_PIPE_READS,
        bonding.water_pipe_wanted,
    ),
    entry("neutral_jumper_wanted", ("generator",), bonding.NEUTRAL_JUMPER_READS, bonding.neutral_jumper_wanted),
    entry("whole_dwelling_load", ("connection",), whole_dwelling.READS, whole_dwelling.carries_the_whole_dwelling),
    entry("next_standard_device", ("connection",), next_device.READS, next_device.next_standard_device),
    entry("insulated_for_wet", ("connection",), wet.READS, wet.insulated_for_wet),
)

NUMBERS = conductor_numbers.READ
"""What of the documents in force is read here."""

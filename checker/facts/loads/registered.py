"""Which facts of loads are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.loads import (
    buildings,
    canadian,
    contacts,
    cures,
    legs,
    managed,
    managers,
    measured,
    neutral,
    neutral_past,
    of_line,
    of_service,
    of_source,
    places,
    restart,
    several_dwellings,
    two_dwellings,
)
from checker.facts.loads import numbers as load_numbers

DERIVATIONS = (
    entry("automatic_load", ("generator",), of_source.READS, of_source.automatic_load),
    entry("load_put_on_the_set", ("transfer_switch",), of_line.READS, of_line.load_of_switch),
    entry("load_on_its_device", ("connection",), of_line.READS_OF_A_LINE, of_line.load_on_its_device),
    entry("managed_load", ("generator",), managed.READS, managed.managed_load),
    entry("reduction_counts", ("load_manager",), managers.READS_OF_LISTING, managers.reduction_counts),
    entry("load_always_on", ("generator",), cures.READS, cures.load_always_on),
    entry("load_without_one", ("generator",), cures.READS, cures.load_without_one),
    entry("load_to_lock_out", ("generator",), (*cures.READS, "name"), cures.load_to_lock_out),
    entry("load_always_on_without_one", ("generator",), cures.READS, cures.load_always_on_without_one),
    entry("load_to_lock_out_too", ("generator",), (*cures.READS, "name"), cures.load_to_lock_out_too),
    entry("heaviest_leg", ("generator",), legs.READS, legs.heaviest_leg),
    entry("neutral_load", ("connection",), neutral.READS, neutral.neutral_load),
    entry("neutral_needed_past", ("transfer_switch",), neutral_past.READS, neutral_past.neutral_needed_past),
    entry("ever_fits", ("load",), managed.READS, managed.ever_fits),
    entry("place_of_its_own", ("load",), places.READS, places.place_of_its_own),
    entry("load_after_a_long_outage", ("generator",), restart.READS, restart.load_after_a_long_outage),
    entry("load_after_a_long_outage", ("load",), restart.READS_OF_A_LOAD, restart.at_its_largest_load),
    entry("has_shedding_contact", ("load",), contacts.READS, contacts.at_its_switch("sheds_loads")),
    entry("has_signal_before_transfer", ("load",), contacts.READS, contacts.at_its_switch("before_transfer")),
    entry("capacity_of_its_set", ("load",), ("at", "capacity"), restart.capacity_of_its_set),
    entry(
        "calculated_load",
        ("utility_supply",),
        of_service.READS,
        of_service.calculated_load(vehicles_outside=False),
    ),
    entry(
        "load_with_vehicles_in_full",
        ("utility_supply",),
        of_service.READS,
        of_service.calculated_load(vehicles_outside=True),
    ),
)

NUMBERS = (
    *load_numbers.READ,
    managers.LISTING,
    *measured.NUMBERS,
    *buildings.NUMBERS,
    *neutral.NUMBERS,
    *several_dwellings.NUMBERS,
    *two_dwellings.NUMBERS,
    *canadian.NUMBERS,
)
"""What of the documents in force is read here."""

"""Which facts of faults are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import entry
from checker.facts.faults import along as faults_along
from checker.facts.faults import asymmetry, to_neutral, tripping
from checker.facts.faults import motors as fault_motors
from checker.facts.faults import numbers as fault_numbers
from checker.facts.faults import sources as fault_sources
from checker.facts.faults.sources import AVAILABLE, LEAST

DERIVATIONS = (
    entry("available_fault_current", ("fault_source",), faults_along.READS, faults_along.of_pair),
    entry(asymmetry.TO_INTERRUPT, ("fault_source",), asymmetry.READS, asymmetry.of_pair),
    entry(to_neutral.TO_NEUTRAL, ("fault_source",), to_neutral.READS, to_neutral.of_pair),
    entry("available_fault_current", ("utility_supply",), fault_sources.TRANSFORMER_READS, fault_sources.of_utility),
    entry("greatest_fault_current", ("generator",), fault_sources.SET_READS, fault_sources.greatest_of_set),
    entry("least_fault_current", ("generator",), fault_sources.LEAST_SET_READS, fault_sources.least_of_set),
    entry("least_fault_current", ("fault_source",), faults_along.LEAST_READS, faults_along.least_of_pair),
    entry("least_fault_current", ("connection",), ("least_fault_current",), faults_along.least_of_run),
    entry("least_from_utility", ("connection",), (AVAILABLE, LEAST), faults_along.least_from_utility),
    entry("motor_fault_current", ("site",), fault_motors.READS, fault_motors.of_site),
    entry("protecting_opens_at_once", ("transfer_switch",), tripping.AT_ONCE_READS, tripping.opens_at_once),
    entry("opens_in_time_from", ("connection",), tripping.READS, tripping.opens_in_time_from),
)

NUMBERS = (*fault_numbers.READS, *tripping.NUMBERS)
"""What of the documents in force is read here."""

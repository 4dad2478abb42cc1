"""Which facts of fuel are worked out, and from which."""

from __future__ import annotations

from checker.facts.derivation import Derivation, entry
from checker.facts.fuel import burnt, hanging, part_load, tanks, vapor_cures
from checker.facts.fuel import capacity as gas_capacity
from checker.facts.fuel import demand as gas_demand
from checker.facts.fuel import numbers as gas_numbers
from checker.facts.fuel import pressure as gas_pressure


def _derivations() -> tuple[Derivation, ...]:
    natural_gas, propane = burnt.MEASURES["natural_gas"], burnt.MEASURES["propane"]
    demand, carries, pipe = gas_demand, gas_capacity, ("gas_pipe",)
    longest, branch = "longest_length", "branch_length"
    return (
        entry("gas_demand", ("generator",), burnt.OF_A_SET, burnt.burnt_by_a_set(natural_gas)),
        entry("gas_demand", ("gas_appliance",), burnt.OF_AN_APPLIANCE, burnt.burnt_by_an_appliance(natural_gas)),
        entry("gas_demand", pipe, demand.OF_A_PIPE, demand.asked_of_a_pipe(natural_gas)),
        entry("gas_demand", ("gas_meter",), demand.OF_EVERYTHING, demand.asked_of_the_meter(natural_gas)),
        entry("heat_demand", ("generator",), burnt.OF_A_SET, burnt.burnt_by_a_set(propane)),
        entry("heat_demand", ("gas_appliance",), burnt.OF_AN_APPLIANCE, burnt.burnt_by_an_appliance(propane)),
        entry("heat_demand", pipe, demand.OF_A_PIPE, demand.asked_of_a_pipe(propane)),
        entry("leads_to_a_set", pipe, hanging.READS, hanging.leads_to_a_set),
        entry("leads_to_one_set_alone", pipe, hanging.READS, hanging.leads_to_one_set_alone),
        entry("piped_gas", pipe, hanging.GAS_READS, hanging.piped_gas),
        entry("longest_length", pipe, carries.LENGTH_READS, carries.length_by_longest),
        entry("branch_length", pipe, carries.LENGTH_READS, carries.length_by_branch),
        entry("gas_capacity", pipe, carries.READS, carries.capacity_by(longest, natural_gas)),
        entry("gas_capacity_by_branch", pipe, carries.READS, carries.capacity_by(branch, natural_gas)),
        entry("heat_capacity", pipe, carries.READS, carries.capacity_by(longest, propane)),
        entry("heat_capacity_by_branch", pipe, carries.READS, carries.capacity_by(branch, propane)),
        entry("size_that_carries", pipe, carries.SIZE_READS, carries.size_that_carries),
        entry("planned_gas_pressure", ("generator",), gas_pressure.READS, gas_pressure.at_full_load),
        entry("planned_pressure_at_rest", ("generator",), gas_pressure.AT_REST_READS, gas_pressure.at_rest),
        *(entry(fact, ("fuel_tank",), ("of", fact), tanks.of_its_set) for fact in tanks.OF_ITS_SET),
        entry("fuel_for_the_class", ("fuel_tank",), tanks.CLASS_READS, tanks.fuel_for_the_class),
        entry("heat_demand", ("fuel_tank",), tanks.DEMAND_READS, tanks.asked_of_a_tank),
        entry("vapor_rate", ("fuel_tank",), tanks.VAPOR_READS, tanks.vapor_rate),
        entry("tank_size_wanted", ("fuel_tank",), vapor_cures.READS, vapor_cures.tank_size_wanted),
        entry("tanks_that_give_enough", ("fuel_tank",), vapor_cures.READS, vapor_cures.tanks_that_give_enough),
        entry("fill_that_gives_enough", ("fuel_tank",), vapor_cures.READS, vapor_cures.fill_that_gives_enough),
        entry("fuel_at_its_load", ("generator",), part_load.READS, part_load.fuel_at_its_load),
        entry("running_time_at_its_load", ("fuel_tank",), tanks.AT_ITS_LOAD_READS, tanks.running_time_at_its_load),
        entry("running_time", ("fuel_tank",), tanks.TIME_READS, tanks.running_time),
    )


DERIVATIONS = _derivations()

NUMBERS = (*gas_numbers.READ, *tanks.NUMBERS)
"""What of the documents in force is read here."""

"""Every derivation: which fact of which subjects it gives, and which facts it reads."""

from __future__ import annotations

from collections.abc import Mapping

from checker.facts import (
    carrying,
    ends,
    fault_currents,
    figures,
    ground_faults,
    ground_paths,
    interlocks,
    neutral_paths,
    neutrals,
    overcurrent,
    powers,
    roles,
    systems,
    ties,
    transfers,
)
from checker.facts.conductors import ampacity, bonding, drop, grounding, run
from checker.facts.conductors import numbers as conductor_numbers
from checker.facts.derivation import Derivation, Work
from checker.facts.loads import buildings, legs, managed, measured, of_service, of_source
from checker.facts.loads import numbers as load_numbers

_DISCONNECTING = ("disconnect", "transfer_switch", "panelboard", "switchboard")
_LINE = ("meter", "disconnect", "transfer_switch", "panelboard", "switchboard", "transformer", "inlet")
_SENSED = ("generator", *_DISCONNECTING)
_ON_NEUTRALS = ("neutral", "neutral_conductor", "system", "neutral_bond", "role")
_THROUGH_SOURCE = ("frequency", "overload_proof", "start_scheme", "generator_form")
_RATED_FOR_FAULT = _DISCONNECTING
_FAULT_READS = (
    *("available_fault_current", "transition", "other_sources", "motor_fault_current"),
    *("other_sources", *interlocks.READS),
)


def _entry(fact: str, subjects: tuple[str, ...], reads: tuple[str, ...], work: Work) -> Derivation:
    return Derivation(fact, frozenset(subjects), frozenset(reads), work)


def _derivations() -> tuple[Derivation, ...]:
    return (
        _entry("overcurrent", ("side", "connection"), ("overcurrent",), overcurrent.nearest_device),
        _entry(
            "overcurrent_limit",
            ("side", "connection", "panelboard", "switchboard"),
            ("overcurrent", *interlocks.READS),
            carrying.device_limit,
        ),
        _entry(
            "current_to_carry",
            ("side", "connection", *_LINE),
            ("overcurrent", "greatest_current", "rated_current", *interlocks.READS),
            carrying.current_to_carry,
        ),
        _entry("incoming", _DISCONNECTING, ("overcurrent",), overcurrent.incoming_device),
        _entry("protecting_device", ("transfer_switch",), ("overcurrent",), overcurrent.on_normal_side("device")),
        _entry(
            "protecting_rating", ("transfer_switch",), ("overcurrent",), overcurrent.on_normal_side("rated_current")
        ),
        _entry(
            "protecting_clearing_time",
            ("transfer_switch",),
            ("overcurrent",),
            overcurrent.on_normal_side("clearing_time"),
        ),
        _entry("role", _DISCONNECTING, ("role",), roles.role),
        _entry("first_after_meter", _DISCONNECTING, (), roles.first_after_meter),
        _entry("past_service_disconnect", (*_LINE, "connection"), ("role",), roles.past_service_disconnect),
        _entry(
            "system",
            (*(kind for kind in _LINE if kind != "transformer"), "side", "connection"),
            ("system",),
            systems.system,
        ),
        _entry("kind", ("side",), (), systems.source_kind),
        *(_entry(fact, ("side",), (fact,), systems.of_source) for fact in _THROUGH_SOURCE),
        _entry("source_kinds", ("side",), (), systems.source_kinds),
        _entry("greatest_current", ("side",), ("greatest_current", *interlocks.READS), carrying.greatest_of_sides),
        _entry("capacity", ("side",), ("capacity",), carrying.one_of_source),
        _entry("neutral_bond", _SENSED, ("at", "bond_status"), neutrals.neutral_bond),
        _entry(
            "electrode_conductor_ahead",
            ("utility_supply",),
            ("electrode_conductor_ends_at", "past_service_disconnect"),
            neutrals.electrode_conductor_ahead,
        ),
        _entry("separately_derived", ("generator",), ("neutral",), neutrals.separately_derived),
        _entry("neutral_poles", ("transfer_switch",), ("neutral",), neutrals.neutral_poles),
        _entry("normal_fault_current", ("transfer_switch",), _FAULT_READS, fault_currents.on_normal_side),
        _entry(
            "available_fault_current",
            ("fault_source",),
            ("available_fault_current", "greatest_fault_current", "motor_fault_current"),
            fault_currents.of_pair,
        ),
        _entry("greatest_fault_current", _RATED_FOR_FAULT, _FAULT_READS, fault_currents.greatest),
        _entry(
            "least_fault_current",
            ("fault_source",),
            ("available_fault_current", "least_fault_current"),
            fault_currents.least_of_pair,
        ),
        _entry("least_fault_current", _RATED_FOR_FAULT, ("least_fault_current",), fault_currents.least),
        _entry(
            "fault_sources_together",
            _RATED_FOR_FAULT,
            ("transition", *interlocks.READS),
            fault_currents.several_at_once,
        ),
        _entry("greatest_power", ("generator",), ("rated_power",), powers.greatest_power),
        _entry(
            "greatest_current", ("generator",), ("greatest_power", "system", "power_factor"), powers.greatest_current
        ),
        _entry("capacity", ("generator",), ("power_at_site", "system", "power_factor"), powers.capacity),
        _entry("automatic_load", ("generator",), of_source.READS, of_source.automatic_load),
        _entry("managed_load", ("generator",), managed.READS, managed.managed_load),
        _entry("heaviest_leg", ("generator",), legs.READS, legs.heaviest_leg),
        _entry("ever_fits", ("load",), managed.READS, managed.ever_fits),
        _entry(
            "calculated_load",
            ("utility_supply",),
            of_service.READS,
            of_service.calculated_load(vehicles_outside=False),
        ),
        _entry(
            "load_with_vehicles_in_full",
            ("utility_supply",),
            of_service.READS,
            of_service.calculated_load(vehicles_outside=True),
        ),
        _entry("service_rating", ("utility_supply",), ("role", "rated_current"), roles.service_rating),
        _entry("automatic_start", ("generator",), ("operation",), powers.automatic_start),
        _entry(
            "ties_to_utility",
            ("generator", "inverter"),
            ("other_sources", "interlock", "first", "second"),
            ties.ties_to_utility,
        ),
        _entry("joins_a_set", ("inverter",), ("other_sources", "interlock", "first", "second"), ties.joins_a_set),
        _entry(
            "overlaps_with_utility",
            ("generator",),
            ("transition", "interlock", "first", "second"),
            ties.overlaps_with_utility,
        ),
        _entry(
            "live_again_when_opened",
            _DISCONNECTING,
            ("other_sources", "interlock", "first", "second", "forms_its_own_grid"),
            ties.live_again_when_opened,
        ),
        _entry("starts_a_set_when_opened", _DISCONNECTING, ("operation",), ties.starts_a_set_when_opened),
        _entry("neutral_ring", ("generator",), ("neutral", "neutral_conductor", "system"), neutral_paths.neutral_ring),
        _entry(
            "bonds_on_neutral",
            ("generator",),
            _ON_NEUTRALS,
            neutral_paths.bonds_on_neutral,
        ),
        _entry(
            "ground_fault_sensing_defeated",
            _SENSED,
            ("ground_fault_protection", *_ON_NEUTRALS),
            ground_faults.ground_fault_sensing_defeated,
        ),
        _entry(
            "trips_for_fault_of_set",
            _SENSED,
            ("ground_fault_protection", *_ON_NEUTRALS),
            ground_faults.trips_for_fault_of_set,
        ),
        _entry("ground_ring", ("generator",), ("grounding", "raceway_grounds"), ground_paths.ground_ring),
        _entry("neutral_at_transfer", ("inlet", "generator"), ("neutral",), transfers.neutral_at_transfer),
        _entry("fed_several_ways", ("panelboard", "switchboard"), (), transfers.fed_several_ways),
        _entry("end_plug_in", ("connection",), ("overcurrent", "plug_in"), ends.of_the_device_at_the_end("plug_in")),
        _entry("end_fastened", ("connection",), ("overcurrent", "fastened"), ends.of_the_device_at_the_end("fastened")),
        _entry("agree", ("figure",), figures.READS, figures.agree),
        _entry("ampacity", ("connection",), run.READS, ampacity.ampacity),
        _entry("grounding_wanted", ("connection",), grounding.READS, grounding.grounding_wanted),
        _entry("voltage_drop", ("connection",), drop.READS, drop.voltage_drop(resistance_alone=False)),
        _entry("voltage_drop_by_resistance", ("connection",), drop.READS, drop.voltage_drop(resistance_alone=True)),
        _entry(
            "jumper_wanted",
            ("connection",),
            bonding.JUMPER_READS,
            bonding.by_phase_conductors("grounding", is_grounded=False),
        ),
        _entry(
            "neutral_wanted",
            ("connection",),
            bonding.NEUTRAL_READS,
            bonding.by_phase_conductors("neutral_conductor", is_grounded=True),
        ),
        _entry(
            "electrode_conductor_wanted",
            ("utility_supply", "generator"),
            bonding.ELECTRODE_READS,
            bonding.electrode_wanted,
        ),
        _entry(
            "end_rating", ("connection",), ("overcurrent",), ends.of_the_device_at_the_end("overcurrent.rated_current")
        ),
    )


NUMBERS_READ = frozenset((*load_numbers.READ, *measured.NUMBERS, *buildings.NUMBERS, *conductor_numbers.READ))
"""The parameters of documents that calculations read."""


def registry() -> Mapping[tuple[str, str], Derivation]:
    """The derivation of each fact for each type of subject."""
    return {(each.fact, subject): each for each in _derivations() for subject in each.subjects}

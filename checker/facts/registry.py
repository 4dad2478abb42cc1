"""Every derivation: which fact of which subjects it gives, and which facts it reads."""

from __future__ import annotations

from collections.abc import Mapping

from checker.facts import figures
from checker.facts.conductors import registered as conductors
from checker.facts.derivation import Derivation, entry
from checker.facts.faults import registered as faults
from checker.facts.faults import together as fault_currents
from checker.facts.fuel import registered as fuel
from checker.facts.line import (
    carrying,
    ends,
    ground_faults,
    ground_paths,
    interlocks,
    neutral_paths,
    neutrals,
    overcurrent,
    roles,
    systems,
    ties,
    transfers,
)
from checker.facts.loads import registered as loads
from checker.facts.parallel import registered as parallel
from checker.facts.sets import registered as sets
from checker.facts.sites import registered as sites

_DISCONNECTING = ("disconnect", "transfer_switch", "panelboard", "switchboard")
_LINE = ("meter", "disconnect", "transfer_switch", "panelboard", "switchboard", "transformer", "inlet")
_SENSED = ("generator", *_DISCONNECTING)
_ON_NEUTRALS = ("neutral", "neutral_conductor", "system", "neutral_bond", "role")
_THROUGH_SOURCE = ("frequency", "overload_proof", "start_scheme", "generator_form", "type_time")
_RATED_FOR_FAULT = _DISCONNECTING
_FAULT_READS = (
    *("available_fault_current", "fault_current_to_neutral", "transition", "other_sources", "motor_fault_current"),
    *("other_sources", *interlocks.READS),
)

_FAMILIES = (sets, loads, conductors, faults, fuel, sites, parallel)
"""Calculations, each family with its entries beside it."""

NUMBERS_READ = frozenset(number for family in _FAMILIES for number in family.NUMBERS)
"""The parameters and tables of documents that calculations read."""


def _of_the_one_line() -> tuple[Derivation, ...]:
    return (
        entry("overcurrent", ("side", "connection"), ("overcurrent",), overcurrent.nearest_device),
        entry(
            "overcurrent_limit",
            ("side", "connection", "panelboard", "switchboard"),
            ("overcurrent", *interlocks.READS),
            carrying.device_limit,
        ),
        entry(
            "current_to_carry",
            ("side", "connection", *_LINE),
            ("overcurrent", "greatest_current", "rated_current", *interlocks.READS),
            carrying.current_to_carry,
        ),
        entry("holds_overcurrent_devices", _DISCONNECTING, ("overcurrent",), overcurrent.holds_devices),
        entry("incoming", _DISCONNECTING, ("overcurrent",), overcurrent.incoming_device),
        entry("protecting_device", ("transfer_switch",), ("overcurrent",), overcurrent.on_normal_side("device")),
        entry("protecting_rating", ("transfer_switch",), ("overcurrent",), overcurrent.on_normal_side("rated_current")),
        entry(
            "protecting_clearing_time",
            ("transfer_switch",),
            ("overcurrent",),
            overcurrent.on_normal_side("clearing_time"),
        ),
        entry("role", _DISCONNECTING, ("role",), roles.role),
        entry("first_after_meter", _DISCONNECTING, (), roles.first_after_meter),
        entry("past_service_disconnect", (*_LINE, "connection"), ("role",), roles.past_service_disconnect),
        entry(
            "system",
            (*(kind for kind in _LINE if kind != "transformer"), "side", "connection"),
            ("system",),
            systems.system,
        ),
        entry("kind", ("side",), (), systems.source_kind),
        *(entry(fact, ("side",), (fact,), systems.of_source) for fact in _THROUGH_SOURCE),
        entry("source_kinds", ("side",), (), systems.source_kinds),
        entry("greatest_current", ("side",), ("greatest_current", *interlocks.READS), carrying.greatest_of_sides),
        entry("capacity", ("side",), ("capacity",), carrying.one_of_source),
        entry("neutral_bond", _SENSED, ("at", "bond_status"), neutrals.neutral_bond),
        entry(
            "electrode_conductor_ahead",
            ("utility_supply",),
            (
                "electrode_conductor_ends_at",
                "electrode_conductor_to_each",
                "past_service_disconnect",
                "role",
                "shared_enclosure",
            ),
            neutrals.electrode_conductor_ahead,
        ),
        entry("separately_derived", ("generator",), ("neutral",), neutrals.separately_derived),
        entry("neutral_poles", ("transfer_switch",), ("neutral",), neutrals.neutral_poles),
        entry("normal_fault_current", ("transfer_switch",), _FAULT_READS, fault_currents.on_normal_side),
        entry("greatest_fault_current", _RATED_FOR_FAULT, _FAULT_READS, fault_currents.greatest),
        entry("least_fault_current", _RATED_FOR_FAULT, ("least_fault_current",), fault_currents.least),
        entry("service_rating", ("utility_supply",), ("role", "rated_current"), roles.service_rating),
        entry(
            "ties_to_utility",
            ("generator", "inverter"),
            ("other_sources", "interlock", "first", "second"),
            ties.ties_to_utility,
        ),
        entry("joins_a_set", ("inverter",), ("other_sources", "interlock", "first", "second"), ties.joins_a_set),
        entry(
            "overlaps_with_utility",
            ("generator",),
            ("transition", "interlock", "first", "second"),
            ties.overlaps_with_utility,
        ),
        entry(
            "live_again_when_opened",
            _DISCONNECTING,
            ("other_sources", "interlock", "first", "second", "forms_its_own_grid"),
            ties.live_again_when_opened,
        ),
        entry("starts_a_set_when_opened", _DISCONNECTING, ("operation",), ties.starts_a_set_when_opened),
        entry("neutral_ring", ("generator",), ("neutral", "neutral_conductor", "system"), neutral_paths.neutral_ring),
        entry(
            "bonds_on_neutral",
            ("generator",),
            (*_ON_NEUTRALS, "at", "bond", "bond_status"),
            neutral_paths.bonds_on_neutral,
        ),
        entry(
            "bonded_ahead_of_its_switches",
            ("generator",),
            (*_ON_NEUTRALS, "at", "bond", "bond_status"),
            neutral_paths.bonded_ahead_of_its_switches,
        ),
        entry(
            "ground_fault_sensing_defeated",
            _SENSED,
            ("ground_fault_protection", *_ON_NEUTRALS),
            ground_faults.ground_fault_sensing_defeated,
        ),
        entry(
            "trips_for_fault_of_set",
            _SENSED,
            ("ground_fault_protection", *_ON_NEUTRALS),
            ground_faults.trips_for_fault_of_set,
        ),
        entry("ground_ring", ("generator",), ("grounding", "raceway_grounds"), ground_paths.ground_ring),
        entry("neutral_at_transfer", ("inlet", "generator"), ("neutral",), transfers.neutral_at_transfer),
        entry("largest_transformer", ("transfer_switch",), ("transformer_rating",), transfers.largest_transformer),
        entry("fed_several_ways", ("panelboard", "switchboard"), (), transfers.fed_several_ways),
        entry("lines_share_a_device", ("generator",), (), ends.lines_share_a_device),
        entry("end_plug_in", ("connection",), ("overcurrent", "plug_in"), ends.of_the_device_at_the_end("plug_in")),
        entry("end_fastened", ("connection",), ("overcurrent", "fastened"), ends.of_the_device_at_the_end("fastened")),
        entry(
            "end_full_rated",
            ("connection",),
            ("overcurrent",),
            ends.of_the_device_at_the_end("overcurrent.full_rated"),
        ),
        entry("agree", ("figure",), figures.READS, figures.agree),
        entry(
            "end_rating", ("connection",), ("overcurrent",), ends.of_the_device_at_the_end("overcurrent.rated_current")
        ),
        entry(
            "fault_sources_together",
            _RATED_FOR_FAULT,
            ("transition", *interlocks.READS),
            fault_currents.several_at_once,
        ),
    )


def entries() -> tuple[Derivation, ...]:
    """Every derivation."""
    return (*_of_the_one_line(), *(each for family in _FAMILIES for each in family.DERIVATIONS))


def registry() -> Mapping[tuple[str, str], Derivation]:
    """The derivation of each fact for each type of subject."""
    return {(each.fact, subject): each for each in entries() for subject in each.subjects}

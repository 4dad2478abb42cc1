"""A dwelling at its least and at its most, and when there is a most."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.engineering.loads.dwelling import Appliance, Dwelling, Heating
from checker.facts.loads.premises import (
    AREA,
    LAUNDRY,
    MOTORS,
    NOTHING,
    OF_THE_WHOLE,
    SMALL_APPLIANCES,
    Load,
    Premises,
    end,
)
from checker.values.truth import Truth

_MANY = 10**6
"""Stands for a number of heaters that has no known end: many by any edition."""

APPLIANCES = ("appliance", "water_heater", "tankless_or_pool_heater", "kitchen", "sign")
CIRCUITS = ("circuit", "lighting", "receptacles")
OTHER_BUILDING = "other_building"
"""Kinds of load as a dwelling counts them."""


def has_end(found: Premises) -> bool:
    """Whether nothing that counts, or can come to it, is without an end."""
    return (
        found.complete
        and all(each.kind is not None and end(each.power.value, upper=True) is not None for each in found.loads)
        and all(end(figure.value, upper=True) is not None for figure in found.figures.values())
    )


def dwelling_at(found: Premises, *, upper: bool) -> Dwelling:
    """The dwelling at its least, with what surely counts; or at its most where that has an end, with all that may."""
    counting = (Truth.YES, Truth.UNKNOWN) if upper else (Truth.YES,)
    loads = [each for each in found.loads if each.counts in counting and each.kind is not None]
    figures = {name: _figure(found, name, upper=upper) for name in OF_THE_WHOLE}

    def of(*kinds: str) -> tuple[Fraction, ...]:
        return tuple(_rating(each, upper=upper) for each in loads if each.kind in kinds)

    return Dwelling(
        area=figures[AREA],
        small_appliance_circuits=found.units * int(figures[SMALL_APPLIANCES]),
        laundry_circuits=found.units * int(figures[LAUNDRY]),
        appliances=tuple(
            Appliance(str(each.kind), _rating(each, upper=upper)) for each in loads if each.kind in APPLIANCES
        ),
        ranges=of("cooking"),
        dryers=of("dryer"),
        vehicles=of("vehicle_supply"),
        heating=Heating(
            cooling=sum(of("cooling"), NOTHING),
            heat_pump=sum(of("heat_pump"), NOTHING),
            supplementary=sum(of("supplementary_heat"), NOTHING),
            with_compressor=_together(loads, upper=upper),
            heat=sum(of("heat"), NOTHING),
            separately_controlled=_controls(loads, upper=upper) if upper or found.is_settled else _MANY,
            storage_heat=sum(of("storage_heat"), NOTHING),
        ),
        largest_motor=_largest_motor(loads, upper=upper),
        outlets=sum(of(*CIRCUITS), NOTHING) if found.is_part else NOTHING,
        other_buildings=sum(of(OTHER_BUILDING), NOTHING),
    )


def _figure(found: Premises, name: str, *, upper: bool) -> Fraction:
    figure = found.figures.get(name)
    return NOTHING if figure is None else end(figure.value, upper=upper) or NOTHING


def _rating(load: Load, *, upper: bool) -> Fraction:
    return end(load.power.value, upper=upper) or NOTHING


def _together(loads: Sequence[Load], *, upper: bool) -> bool:
    """Whether strip heat runs with the compressor; where that is not known, at the most it does."""
    answers = [each.with_compressor for each in loads if each.kind == "supplementary_heat"]
    return any(answer is Truth.YES or (upper and answer is Truth.UNKNOWN) for answer in answers)


def _controls(loads: Sequence[Load], *, upper: bool) -> int:
    """Heaters with controls of their own. More of them count less, so that the most load has the fewest."""
    counts = [end(each.controls, upper=not upper) for each in loads if each.kind == "heat"]
    if any(count is None for count in counts):
        return _MANY
    return sum(int(count) for count in counts if count is not None)


def _largest_motor(loads: Sequence[Load], *, upper: bool) -> Fraction:
    """The largest load that a motor drives: of those that surely are motors, or at the most of all that may be."""
    answers = (Truth.YES, Truth.UNKNOWN) if upper else (Truth.YES,)
    motors = (each for each in loads if each.kind in MOTORS or (each.kind == "appliance" and each.motor in answers))
    return max((_rating(each, upper=upper) for each in motors), default=NOTHING)

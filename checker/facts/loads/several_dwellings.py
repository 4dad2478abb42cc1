"""The load of a building of several dwelling units by their optional calculation, at both ends of what is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import ByCount, CountRow
from checker.engineering.loads.dwelling import Dwelling, Heating
from checker.engineering.loads.multifamily import MULTIFAMILY_LOAD, MultifamilyCase, Part
from checker.engineering.loads.other_buildings import BuildingCase
from checker.engineering.worked import Worked
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.facts.loads.buildings import building_cases, building_load
from checker.facts.loads.ends import dwelling_at, has_end
from checker.facts.loads.methods import CONNECTED, Ends, Terms, connected
from checker.facts.loads.numbers import CIRCUIT, LIGHTING, VEHICLE, VEHICLE_OUTSIDE, by_count
from checker.facts.loads.premises import (
    LARGEST_MOTOR,
    NOTHING,
    OF_THE_WHOLE,
    Counts,
    Premises,
    end,
    premises,
)
from checker.facts.numbers import cited, number_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import SITE, Subject
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

METHOD = "multifamily"
UNITS, SERVES = "dwelling_units", "serves"
CONDITIONS = ("one_feeder_to_each_unit", "electric_cooking_in_each_unit", "electric_heating_or_cooling_in_each_unit")
READS = (UNITS, SERVES, *CONDITIONS)

FACTORS, LEAST_UNITS = "factor-of-dwelling-units", "dwelling-units-from-which-the-optional-calculation-counts"
NUMBERS = (FACTORS, LEAST_UNITS)

EACH, HOUSE = "each_dwelling_unit", "house"
_ONE = "one_dwelling_unit"
_NO_MOTOR: frozenset[str] = frozenset()
_MOTORS = frozenset({LARGEST_MOTOR})
_WHOLE = Fraction(1)
_COOKS = frozenset({"cooking"})
_CLIMATE = frozenset({"cooling", "heat_pump", "supplementary_heat", "heat", "storage_heat"})


@dataclass(frozen=True, slots=True)
class SeveralDwellings:
    """How many units there are, the figures of all of them, and the loads in each unit, in one of them and of the house
    as far as it is known which serves what.
    """

    units: Known
    each: Premises
    one: Premises
    house: Premises

    @property
    def together(self) -> Premises:
        """Everything that counts or may count, once."""
        loads = {load.subject: load for part in (self.each, self.one, self.house) for load in part.loads}
        return Premises({**self.each.figures, UNITS: self.units}, tuple(loads.values()), self.each.complete)


def load_of_several(context: Context, counts: Counts, terms: Terms, method: Possible) -> tuple[Premises, Ends]:
    """What counts and its load: of the whole by the optional calculation, of a part that serves the house alone by the
    standard one of other buildings. Raises OutsideLimits where neither holds.
    """
    if terms.is_part:
        return _house_alone(context, counts, terms, method)
    if method.atom != METHOD:
        raise OutsideLimits(
            "The load of several dwellings has to be stated; or write load_method: multifamily, where the conditions "
            "of their optional calculation hold."
        )
    check_conditions(context)
    found = _found(context, counts)
    return found.together, several_load(found, context.numbers, terms)


def check_conditions(context: Context) -> None:
    """Raises OutsideLimits where something is not shown that the optional calculation of several units wants."""
    for name in CONDITIONS:
        if context.read(SITE, name) != exactly(True):
            said = context.catalog.facts[name].title
            raise OutsideLimits(
                f"The optional calculation of several dwelling units wants this, not shown here: {said}."
            )
    _check_listed(context)


def _check_listed(context: Context) -> None:
    """Raises OutsideLimits where the list has nothing of what every unit is said to have, be it kept off or not."""
    listed = context.members("loads")
    for kinds, what in ((_COOKS, "cooking"), (_CLIMATE, "heating or air conditioning")):
        if listed.complete and not any(_may_be(context, load, kinds) for load in listed.members):
            raise OutsideLimits(f"Every unit is said to have electric {what}, and the loads that are listed have none.")


def _may_be(context: Context, load: Subject, kinds: frozenset[str]) -> bool:
    """Whether a load may be of these kinds and in a unit."""
    kind, serves = context.read(load, "load_kind").atom, context.read(load, SERVES)
    return (kind is None or kind in kinds) and relate("is", serves, exactly(HOUSE)) is not Truth.YES


def _found(context: Context, counts: Counts) -> SeveralDwellings:
    def serving(whom: str, asks: frozenset[str], figures: tuple[str, ...] = ()) -> Premises:
        return premises(context, _serving(context, counts, whom), asks=asks, figures_read=figures)

    return SeveralDwellings(
        context.known(SITE, UNITS),
        serving(EACH, _NO_MOTOR, OF_THE_WHOLE),
        serving(_ONE, _NO_MOTOR),
        serving(HOUSE, _MOTORS),
    )


def _serving(context: Context, counts: Counts, whom: str) -> Counts:
    def serves(load: Subject) -> Truth:
        return all_of((counts(load), relate("is", context.read(load, SERVES), exactly(whom))))

    return serves


def _house_alone(context: Context, counts: Counts, terms: Terms, method: Possible) -> tuple[Premises, Ends]:
    """The load of a part of the building where everything on it serves the house and no unit."""
    found = premises(context, counts, asks=_MOTORS, is_part=True)
    if method.atom == CONNECTED:
        return found, connected(found, context.numbers, terms)
    if any(context.read(each.subject, SERVES) != exactly(HOUSE) for each in found.loads):
        raise OutsideLimits(
            "A part of a building of several dwellings is fed, and not every load on it is shown to serve the house; "
            "write serves: house at those that do, or load_method: connected."
        )
    return found, building_load(exactly("multifamily_dwelling"), found, context.numbers)


# --- the calculation at both ends ------------------------------------------------------------------------------------


def several_load(found: SeveralDwellings, numbers: NumbersInForce, terms: Terms) -> Ends:
    """The load at its least, with the factor of the most units that there may be, and at its most, with that of the
    fewest. Raises OutsideLimits where there may be too few units.
    """
    fewest, most_units = _units(found, numbers)
    factors = by_count(numbers, FACTORS)
    least_house, most_house = building_cases(found.house, NOTHING, numbers)
    least_by = _smallest(factors) if most_units is None else factors
    for_the_factor = fewest if most_units is None else most_units
    least = _Corner(fewest, for_the_factor, least_by, least_house, upper=False).load(found, numbers, terms)
    title, limits = MULTIFAMILY_LOAD.title, MULTIFAMILY_LOAD.limits
    has_most = most_house is not None and has_end(found.each) and has_end(found.one)
    if most_units is None or most_house is None or not has_most:
        return Ends(title, limits, least, None)
    most = _Corner(most_units, fewest, factors, most_house, upper=True).load(found, numbers, terms)
    return Ends(title, limits, least, most)


def _units(found: SeveralDwellings, numbers: NumbersInForce) -> tuple[int, int | None]:
    """The fewest and the most units that there may be."""
    fewest, most = end(found.units.value, upper=False) or NOTHING, end(found.units.value, upper=True)
    wanted = number_in_force(numbers, LEAST_UNITS)
    if fewest < wanted:
        raise OutsideLimits(f"The optional calculation of several dwelling units wants {wanted} units, shown as such.")
    return int(fewest), None if most is None else int(most)


def _smallest(factors: ByCount) -> ByCount:
    return ByCount((CountRow(None, min(row.value for row in factors.rows)),), factors.source)


@dataclass(frozen=True, slots=True)
class _Corner:
    """One end: how many units hold loads, how many the factor is for, and the house."""

    units: int
    units_of_factor: int
    factors: ByCount
    house: BuildingCase
    upper: bool

    def load(self, found: SeveralDwellings, numbers: NumbersInForce, terms: Terms) -> Worked:
        each, one = (dwelling_at(part, upper=self.upper) for part in (found.each, found.one))
        vehicles = self._vehicles(each, one, numbers)
        outside = terms.vehicles_outside
        beside = number_in_force(numbers, VEHICLE_OUTSIDE) == _WHOLE if outside is None else outside
        ratings = (part for part in self._ratings(each, one) if part.load)
        parts = (*self._general(each, numbers), *ratings, *(() if beside else vehicles))
        return MULTIFAMILY_LOAD(
            MultifamilyCase(
                self.units_of_factor,
                parts,
                self.house if found.house.loads else None,
                self.factors,
                int(number_in_force(numbers, LEAST_UNITS)),
                electric_cooking=True,
                electric_heating_or_cooling=True,
                in_full=vehicles if beside else (),
            )
        )

    def _general(self, each: Dwelling, numbers: NumbersInForce) -> Iterator[Part]:
        by_area, circuit = number_in_force(numbers, LIGHTING), number_in_force(numbers, CIRCUIT)
        how = f"{each.area} ft2 x {by_area} VA/ft2"
        yield Part("general lighting", how, each.area * by_area, cited(numbers, LIGHTING))
        circuits = each.small_appliance_circuits + each.laundry_circuits
        how = f"{self.units} units x {circuits} x {circuit} VA"
        load = self.units * circuits * circuit
        yield Part("small-appliance and laundry circuits", how, load, cited(numbers, CIRCUIT))

    def _ratings(self, each: Dwelling, one: Dwelling) -> Iterator[Part]:
        yield self._part("appliances", *(sum((a.rating for a in home.appliances), NOTHING) for home in (each, one)))
        yield self._part("lights and receptacles of other buildings", each.other_buildings, one.other_buildings)
        yield self._part("cooking", sum(each.ranges, NOTHING), sum(one.ranges, NOTHING))
        yield self._part("dryers", sum(each.dryers, NOTHING), sum(one.dryers, NOTHING))
        how = "the greater of the two in all units, which do not run together"
        yield Part("heating or cooling", how, self._climate(each.heating, one.heating).largest_at_once)

    def _vehicles(self, each: Dwelling, one: Dwelling, numbers: NumbersInForce) -> tuple[Part, ...]:
        least = number_in_force(numbers, VEHICLE)
        of_each, of_one = (sum((max(v, least) for v in home.vehicles), NOTHING) for home in (each, one))
        return (self._part("vehicle supply equipment", of_each, of_one),) if of_each or of_one else ()

    def _part(self, quantity: str, of_each: Fraction, of_one: Fraction) -> Part:
        how = f"{self.units} units x {of_each} VA" + (f" + {of_one} VA in single units" if of_one else "")
        return Part(quantity, how, self.units * of_each + of_one)

    def _climate(self, each: Heating, one: Heating) -> Heating:
        return Heating(
            cooling=self.units * each.cooling + one.cooling,
            heat_pump=self.units * each.heat_pump + one.heat_pump,
            supplementary=self.units * each.supplementary + one.supplementary,
            with_compressor=each.with_compressor or one.with_compressor,
            heat=self.units * each.heat + one.heat,
            storage_heat=self.units * each.storage_heat + one.storage_heat,
        )

"""Numbers of the documents in force, as the calculations of conductors take them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.ampacity import AmpacityTables
from checker.engineering.conductors.tables import (
    Ampacities,
    Column,
    CountFactors,
    LimitedRow,
    SizeRow,
    SizesBy,
    TemperatureFactors,
    limited,
)
from checker.engineering.conductors.terminals import RoofRow, TerminalNumbers
from checker.facts.numbers import cited, made_once, number_in_force, rows_in_force, words_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.numbers import Row
from checker.values.possible import Possible
from checker.values.wire_sizes import SIZES, WireSize

AMPACITIES = "conductor-ampacities"
SMALL_ALUMINUM = "small-aluminum-ampacities"
BY_TEMPERATURE = "ambient-temperature-factors"
BY_COUNT = "conductor-count-factors"
INSULATIONS = "insulation-temperatures"
SHORT_BUNDLE = "length-of-a-bundle-that-is-not-adjusted"
SMALL_CIRCUIT = "circuit-up-to-which-terminals-count-as-small"
SMALL_SIZE = "size-up-to-which-terminals-count-as-small"
SMALL_COLUMN = "column-of-small-terminals"
LARGE_COLUMN = "column-of-large-terminals"
ROOF_HEIGHT = "height-above-a-roof-from-which-nothing-is-added"
ROOF_ADDER = "what-the-sun-adds-close-to-a-roof"
ROOF_EXEMPT = "insulations-for-which-a-roof-adds-nothing"

CABLES, CABLE_COLUMN = "cables-with-a-column-of-their-own", "column-of-these-cables"
DC = "dc-resistances"
AC_RESISTANCES, AC_REACTANCES = "ac-resistances", "ac-reactances"
SMALL_LIMITS = "small-conductor-limit"
GROUNDING = "equipment-grounding-conductors"
JUMPERS = "bonding-jumpers"
JUMPER_SHARE = "share-of-the-phase-conductors-past-the-table"
ELECTRODES = "electrode-conductors"
ELECTRODE_LIMITS = "electrode-conductor-limits"
WATER_PIPE_LIMITS = "water-pipe-bond-limits"
STANDARD_DEVICES = "standard-overcurrent-sizes"

RACEWAY_AREAS, CONDUCTOR_AREAS, FILL = "raceway-areas", "conductor-areas", "raceway-fill"
AS_THHN, AS_XHHW = "insulations-with-the-area-of-thhn", "insulations-with-the-area-of-xhhw"
MOST_OF_A_NIPPLE = "length-up-to-which-a-raceway-is-a-nipple"
ONE_MORE = "part-of-a-conductor-that-counts-as-one-more"
NONLINEAR = "share-of-nonlinear-load-above-which-a-neutral-counts"

READ = (
    *(AMPACITIES, SMALL_ALUMINUM, BY_TEMPERATURE, BY_COUNT, INSULATIONS, SHORT_BUNDLE),
    *(SMALL_CIRCUIT, SMALL_SIZE, SMALL_COLUMN, LARGE_COLUMN, ROOF_HEIGHT, ROOF_ADDER, ROOF_EXEMPT),
    *(CABLES, CABLE_COLUMN),
    *(DC, AC_RESISTANCES, AC_REACTANCES, SMALL_LIMITS, GROUNDING, JUMPERS, JUMPER_SHARE, ELECTRODES, ELECTRODE_LIMITS),
    *(WATER_PIPE_LIMITS, STANDARD_DEVICES),
    *(RACEWAY_AREAS, CONDUCTOR_AREAS, FILL, AS_THHN, AS_XHHW, MOST_OF_A_NIPPLE, ONE_MORE, NONLINEAR),
)
"""Every parameter and table that is read here."""

_BY_AREA = {size.circular_mils: size for size in SIZES.values()}


@dataclass(frozen=True, slots=True)
class RoofNumbers:
    """What the sun on a roof adds, by height, and the insulations for which it adds nothing."""

    rows: tuple[RoofRow, ...]
    exempt: frozenset[str]


@made_once
def ampacity_tables(numbers: NumbersInForce) -> AmpacityTables:
    """The three tables of ampacity; OutsideLimits where the documents in force have none."""
    columns: dict[tuple[str, Fraction], dict[WireSize, Fraction]] = {}
    for name in (AMPACITIES, SMALL_ALUMINUM):
        for row in rows_in_force(numbers, name):
            column = columns.setdefault((_word(row, "material"), _number(row, "column")), {})
            column[wire_size(_number(row, "size"))] = _value(row)
    return AmpacityTables(
        Ampacities(
            tuple(Column(material, temperature, cells) for (material, temperature), cells in columns.items()),
            cited(numbers, AMPACITIES),
        ),
        TemperatureFactors(_by_insulation(numbers), cited(numbers, BY_TEMPERATURE)),
        CountFactors(
            tuple(LimitedRow(_up_to(row, "count"), _value(row)) for row in rows_in_force(numbers, BY_COUNT)),
            cited(numbers, BY_COUNT),
            number_in_force(numbers, SHORT_BUNDLE),
        ),
    )


def sizes_in_tables(numbers: NumbersInForce, metals: Collection[object] | None) -> frozenset[WireSize]:
    """The sizes for which the tables of ampacity have a value in one of these metals, or in any; none where no such
    table is in force.
    """
    try:
        columns = ampacity_tables(numbers).ampacities.columns
    except OutsideLimits:
        return frozenset()
    return frozenset(size for each in columns if not metals or each.material in metals for size in each.sizes)


def _by_insulation(numbers: NumbersInForce) -> Mapping[Fraction, tuple[LimitedRow, ...]]:
    found: dict[Fraction, list[LimitedRow]] = {}
    for row in rows_in_force(numbers, BY_TEMPERATURE):
        if row.value.number is not None:
            rows = found.setdefault(_number(row, "insulation"), [])
            rows.append(LimitedRow(_up_to(row, "ambient"), row.value.number))
    return {insulation: tuple(rows) for insulation, rows in found.items()}


@made_once
def terminal_numbers(numbers: NumbersInForce) -> TerminalNumbers:
    """What is set for terminals without a marking."""
    return TerminalNumbers(
        number_in_force(numbers, SMALL_CIRCUIT),
        wire_size(number_in_force(numbers, SMALL_SIZE)),
        number_in_force(numbers, SMALL_COLUMN),
        number_in_force(numbers, LARGE_COLUMN),
    )


def roof_numbers(numbers: NumbersInForce) -> RoofNumbers:
    """What the sun on a roof adds."""
    row = RoofRow(number_in_force(numbers, ROOF_HEIGHT), with_it=False, adder=number_in_force(numbers, ROOF_ADDER))
    return RoofNumbers((row,), frozenset(map(_letters, words_in_force(numbers, ROOF_EXEMPT))))


@made_once
def insulation_temperatures(numbers: NumbersInForce) -> Mapping[tuple[str, bool], Fraction]:
    """The temperature (°C) of an insulation by its letters, in a wet place or not; what may not lie there is left
    out.
    """
    return {
        (_letters(_word(row, "insulation")), row.keys["wet"].atom is True): row.value.number
        for row in rows_in_force(numbers, INSULATIONS)
        if row.value.number is not None
    }


def grounding_rows(numbers: NumbersInForce, metal: str) -> SizesBy:
    """Equipment grounding conductors of a metal by the overcurrent device (A)."""
    return _sizes_by(numbers, GROUNDING, "overcurrent", material=metal)


@made_once
def small_limits(numbers: NumbersInForce) -> Mapping[tuple[WireSize, str], Fraction]:
    """The largest overcurrent device (A) of a small conductor by size and metal, whatever its ampacity."""
    return {
        (wire_size(_number(row, "size")), _word(row, "material")): row.value.number
        for row in rows_in_force(numbers, SMALL_LIMITS)
        if row.value.number is not None
    }


def jumper_rows(numbers: NumbersInForce, phase: str, metal: str) -> SizesBy:
    """Bonding jumpers of a metal by the area of phase conductors of a metal (kcmil)."""
    return _sizes_by(numbers, JUMPERS, "phase", phase_material=phase, material=metal)


def jumper_share(numbers: NumbersInForce) -> Fraction:
    """The share of the area of the phase conductors that a jumper has past the last row of its table."""
    return number_in_force(numbers, JUMPER_SHARE)


def electrode_rows(numbers: NumbersInForce, phase: str, metal: str) -> SizesBy:
    """Grounding electrode conductors of a metal by the area of phase conductors of a metal (kcmil)."""
    return _sizes_by(numbers, ELECTRODES, "phase", phase_material=phase, material=metal)


@made_once
def electrode_limits(numbers: NumbersInForce) -> Mapping[tuple[str, str], WireSize]:
    """By electrode and metal the size above which a conductor to it alone never has to be."""
    return {
        (_word(row, "electrode"), _word(row, "material")): wire_size(row.value.number)
        for row in rows_in_force(numbers, ELECTRODE_LIMITS)
        if row.value.number is not None
    }


def water_pipe_limit(numbers: NumbersInForce, metal: str) -> WireSize:
    """The size above which the bond of a metal water pipe never has to be."""
    rows = rows_in_force(numbers, WATER_PIPE_LIMITS)
    return next(wire_size(_value(row)) for row in rows if _word(row, "material") == metal)


def standard_devices(numbers: NumbersInForce) -> tuple[Fraction, ...]:
    """The standard ratings of overcurrent devices (A)."""
    return tuple(_value(row) for row in rows_in_force(numbers, STANDARD_DEVICES))


@dataclass(frozen=True, slots=True)
class CableColumn:
    """Cables by their letters, and the column (°C) that they do not exceed."""

    cables: frozenset[str]
    column: Fraction


@made_once
def cable_column(numbers: NumbersInForce) -> CableColumn:
    """The cables that have a column of their own."""
    cables = frozenset(map(_letters, words_in_force(numbers, CABLES)))
    return CableColumn(cables, number_in_force(numbers, CABLE_COLUMN))


@dataclass(frozen=True, slots=True)
class Impedance:
    """Resistance and reactance (ohm per 1000 ft) of a conductor in a raceway; without both, to direct current."""

    size: WireSize
    metal: str
    raceway: str | None
    resistance: Fraction
    reactance: Fraction | None
    source: str


@made_once
def impedances(numbers: NumbersInForce) -> list[Impedance]:
    """Every conductor in every raceway of the tables for alternating current."""
    source = cited(numbers, AC_RESISTANCES)
    reactances = {
        (_number(row, "size"), _word(row, "raceway")): row.value.number for row in rows_in_force(numbers, AC_REACTANCES)
    }
    return [
        Impedance(
            wire_size(_number(row, "size")),
            _word(row, "material"),
            _word(row, "raceway"),
            _value(row),
            reactances[_number(row, "size"), _word(row, "raceway")],
            source,
        )
        for row in rows_in_force(numbers, AC_RESISTANCES)
    ]


@made_once
def direct_current_resistances(numbers: NumbersInForce) -> list[Impedance]:
    """Every stranded conductor of the table for direct current."""
    return [
        Impedance(wire_size(_number(row, "size")), _word(row, "material"), None, _value(row), None, cited(numbers, DC))
        for row in rows_in_force(numbers, DC)
        if _word(row, "stranding") == "stranded"
    ]


_SQUARE_INCHES = 144
"""In a square foot, which is what areas are counted in."""
_BARE = "bare"


@dataclass(frozen=True, slots=True)
class RacewayAreas:
    """Insides of raceways by trade size (ft) and kind, and conductors by size (circular mils) and covering, all in
    square inches; and which insulations have which covering.
    """

    raceways: tuple[tuple[Fraction, str, Fraction], ...]
    conductors: tuple[tuple[Fraction, str, Fraction], ...]
    covering_of: Mapping[str, str]
    source: str

    @property
    def bare(self) -> frozenset[str]:
        """That of a bare conductor."""
        return frozenset({_BARE})

    def coverings(self, insulation: Possible, *, may_be_bare: bool) -> frozenset[str]:
        """The coverings that an insulation can have; every one where it is open, none where no table has it."""
        letters = None if insulation.anything or not insulation.atoms else map(str, insulation.atoms)
        known = (
            frozenset(self.covering_of.values())
            if letters is None
            else frozenset(
                self.covering_of[part] for each in letters for part in each.split("/") if part in self.covering_of
            )
        )
        return known | self.bare if may_be_bare else known


@made_once
def raceway_areas(numbers: NumbersInForce) -> RacewayAreas:
    """The tables of raceways and conductors; OutsideLimits where the documents in force have none."""
    groups = {"thhn": AS_THHN, "xhhw": AS_XHHW}
    return RacewayAreas(
        tuple(
            (_number(row, "size"), _word(row, "kind"), row.value.number * _SQUARE_INCHES)
            for row in rows_in_force(numbers, RACEWAY_AREAS)
            if row.value.number is not None
        ),
        tuple(
            (_number(row, "size"), _word(row, "covering"), _value(row) * _SQUARE_INCHES)
            for row in rows_in_force(numbers, CONDUCTOR_AREAS)
        ),
        {_letters(word): group for group, name in groups.items() for word in words_in_force(numbers, name)},
        cited(numbers, RACEWAY_AREAS),
    )


def fill_share(numbers: NumbersInForce, conductors: int, *, nipple: bool) -> Fraction:
    """The share of a raceway that so many conductors may fill."""
    rows = (row for row in rows_in_force(numbers, FILL) if (row.keys["nipple"].atom is True) == nipple)
    by_count = tuple(LimitedRow(_up_to(row, "conductors"), _value(row)) for row in rows)
    return limited(by_count, Fraction(conductors), cited(numbers, FILL))


def _sizes_by(numbers: NumbersInForce, name: str, key: str, **words: str) -> SizesBy:
    rows = (
        SizeRow(_up_to(row, key), wire_size(_value(row)))
        for row in rows_in_force(numbers, name)
        if all(_word(row, each) == word for each, word in words.items())
    )
    return SizesBy(tuple(rows), cited(numbers, name))


def wire_size(area: Fraction) -> WireSize:
    """The size with this area in circular mils."""
    return _BY_AREA[area]


def _letters(word: str) -> str:
    """The letters of an insulation as they are typed; names in packs hold no hyphen."""
    return word.replace("_", "-")


def _word(row: Row, key: str) -> str:
    return str(row.keys[key].atom)


def _number(row: Row, key: str) -> Fraction:
    found = row.keys[key].number
    if found is None:
        raise OutsideLimits(f"A row of a table is for no one {key}.")
    return found


def _up_to(row: Row, key: str) -> Fraction | None:
    hull = row.keys[key].hull
    return None if hull is None else hull.high


def _value(row: Row) -> Fraction:
    if row.value.number is None:
        raise OutsideLimits("A row of a table is no one number.")
    return row.value.number

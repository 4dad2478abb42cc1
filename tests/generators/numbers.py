"""Numbers as they stand on drawings, few for each kind of quantity, so that two of them are often equal or near."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from checker.catalog.model import Bounds, Fact, ValueType
from checker.values.kinds import KINDS
from checker.values.wire_sizes import SIZES
from tests.generators.days import DAYS, day_text


@dataclass(frozen=True, slots=True)
class Figure:
    """One number: as it is typed, in the base unit of its kind, and the unit in which it is typed."""

    text: str
    number: Fraction
    unit: str | None = None


_GRID: Mapping[str, tuple[str, ...]] = {
    "sound_level": ("45 dBA", "55 dBA", "60 dBA", "72 dBA"),
    "unweighted_sound_level": ("50 dB", "60 dB", "75 dB"),
    "sound_difference": ("3 dB", "5 dB", "10 dB"),
    "load_current": ("15 A", "60 A", "90 A", "100 A", "125 A", "200 A", "225 A", "400 A"),
    "fault_current": ("900 A", "5 kA", "7.5 kA", "9.6 kA", "10 kA", "14 kA", "22 kA", "42 kA"),
    "voltage": ("120 V", "208 V", "240 V", "277 V", "480 V"),
    "active_power": ("8 kW", "14 kW", "19 kW", "20 kW", "22 kW", "48 kW"),
    "apparent_power": ("500 VA", "1500 VA", "8 kVA", "25 kVA", "100 kVA"),
    "length": ("0.25 in", "3 in", "10 in", "3 ft", "42 in", "5 ft", "10 ft", "18 ft", "100 ft", "1000 ft"),
    "area": ("1000 ft2", "1950 ft2", "4000 ft2"),
    "duration": ("5 ms", "50 ms", "0.1 s", "1 s", "5 s", "15 min", "1 h", "1 d", "30 d", "400 d"),
    "energy": ("1 kWh", "5 kWh", "13 kWh", "40 kWh"),
    "frequency": ("50 Hz", "60 Hz"),
    "plain_number": ("1", "1.5", "5", "12"),
    "ratio": ("1 %", "10 %", "50 %", "80 %", "90 %", "100 %"),
    "temperature": ("32 °F", "95 °F", "100 °F", "40 °C", "60 °C", "75 °C"),
    "temperature_difference": ("10 °F", "10 °C"),
    "resistance": ("5 ohm", "25 ohm", "100 ohm"),
    "motor_power": ("5 hp", "20 hp", "100 hp"),
    "gas_flow": ("80 ft3/h", "220 ft3/h", "327 ft3/h", "425 ft3/h", "502 ft3/h"),
    "heat_rate": ("40 kBTU/h", "100 kBTU/h", "327 kBTU/h"),
    "heating_value": ("950 BTU/ft3", "1000 BTU/ft3", "2500 BTU/ft3"),
    "pressure": ("7 in wc", "11 in wc", "2 psi", "5 psi"),
    "volume": ("100 gal", "250 gal", "500 gal"),
    "fuel_rate": ("1 gal/h", "2 gal/h", "10 gal/h"),
    "battery_capacity": ("20 Ah", "100 Ah", "200 Ah"),
}
_COUNTS = (1, 2, 3, 4)
_SIZES = ("8 AWG", "4 AWG", "3 AWG", "2/0 AWG", "250 kcmil")


def figures_of(fact: Fact) -> tuple[Figure, ...]:
    """Numbers that can stand for an ordered fact on a drawing, within its physical and plausible bounds, rising."""
    if fact.name == "system.phases":
        # Two phases are no system of today, and the calculations have no answer for them.
        return tuple(figure for figure in figures_of_kind(fact.type.value) if figure.number in (1, 3))
    return _within(fact.quantity or fact.type.value, fact.physical, fact.plausible)


@cache
def figures_of_kind(kind: str) -> tuple[Figure, ...]:
    """Numbers of one kind of quantity, or of counts, wire sizes or dates, rising."""
    if kind == ValueType.COUNT.value:
        found = [Figure(str(count), Fraction(count)) for count in _COUNTS]
    elif kind == ValueType.WIRE_SIZE.value:
        found = [Figure(name, SIZES[name].circular_mils) for name in _SIZES]
    elif kind == ValueType.DATE.value:
        found = [Figure(day_text(day), Fraction(day.toordinal())) for day in DAYS]
    else:
        found = [_quantity(text, kind) for text in _GRID[kind]]
    return tuple(sorted(found, key=lambda figure: figure.number))


def _quantity(text: str, kind: str) -> Figure:
    written, _, symbol = text.partition(" ")
    unit = KINDS[kind].unit(symbol)
    if unit is None:
        raise LookupError(text)
    return Figure(text, unit.to_base(Fraction(written)), unit.symbol)


@cache
def _within(kind: str, *ranges: Bounds | None) -> tuple[Figure, ...]:
    figures = figures_of_kind(kind)
    kept = tuple(each for each in figures if all(bounds is None or bounds.holds(each.number) for bounds in ranges))
    if not kept:
        raise LookupError(f"no {kind} of the generator lies within {ranges}")
    return kept


def has_figures(kind: str) -> bool:
    """Whether there are numbers of this kind."""
    return kind in _GRID or kind in {each.value for each in (ValueType.COUNT, ValueType.WIRE_SIZE, ValueType.DATE)}

"""Units and their factors against NIST SP 811 and against an independent library of units."""

from fractions import Fraction

import pint
import pytest

from checker.values.kinds import KINDS, kind, spelling_of

# NIST SP 811 (2008), appendix B.9, as printed, from an online copy of the table; (+) from memory. Each says how many SI
# units one unit is, to seven digits.
PRINTED = [
    ("length", "ft", "m", "0.3048"),
    ("length", "in", "m", "0.0254"),
    ("length", "yd", "m", "0.9144"),
    ("length", "mi", "m", "1609.344"),
    ("area", "ft2", "m2", "0.09290304"),  # (+)
    ("volume", "gal", "m3", "0.003785412"),
    ("volume", "ft3", "m3", "0.02831685"),  # (+)
    ("volume", "qt", "m3", "0.0009463529"),
    ("weight", "lb", "kg", "0.4535924"),
    ("pressure", "in wc", "Pa", "249.0889"),
    ("pressure", "in Hg", "Pa", "3386.389"),
    ("pressure", "psi", "Pa", "6894.757"),
    ("pressure", "bar", "Pa", "100000"),
    ("duration", "d", "s", "86400"),
    ("duration", "h", "s", "3600"),
    ("heat_rate", "BTU/h", "W", "0.2930711"),  # (+)
    ("heating_value", "BTU/ft3", "MJ/m3", "0.03725895"),  # (+)
    ("air_flow", "cfm", "m3/s", "0.0004719474"),  # (+)
]

# What an independent library calls each unit; typed here, never read from a file.
ORACLE = {
    "length": {
        "ft": "foot", "in": "inch", "yd": "yard", "mi": "mile", "m": "meter", "mm": "mm", "cm": "cm", "km": "km",
    },
    "area": {"ft2": "foot**2", "m2": "meter**2", "in2": "inch**2"},
    "volume": {
        "gal": "gallon", "L": "liter", "ft3": "foot**3", "m3": "meter**3", "in3": "inch**3", "qt": "quart",
    },
    "gas_flow": {"ft3/h": "foot**3/hour", "cfh": "foot**3/hour", "m3/h": "meter**3/hour"},
    "air_flow": {
        "cfm": "foot**3/minute", "m3/h": "meter**3/hour", "m3/min": "meter**3/minute", "m3/s": "meter**3/second",
        "L/s": "liter/second",
    },
    "heat_rate": {
        "BTU/h": "Btu_it/hour", "MBH": "1000*Btu_it/hour", "kBTU/h": "1000*Btu_it/hour",
        "MMBTU/h": "1000000*Btu_it/hour", "kW": "kilowatt", "W": "watt",
    },
    "heating_value": {"BTU/ft3": "Btu_it/foot**3", "MJ/m3": "megajoule/meter**3"},
    "liquid_heating_value": {"BTU/gal": "Btu_it/gallon", "MJ/L": "megajoule/liter"},
    "pressure": {
        "in wc": "inch*1000*kilogram/meter**3*standard_gravity", "psi": "psi", "kPa": "kilopascal", "mbar": "millibar",
        "Pa": "pascal", "bar": "bar", "oz/in2": "psi/16", "in Hg": "inch_Hg",
    },
    "duration": {"s": "second", "min": "minute", "h": "hour", "ms": "millisecond", "d": "day", "wk": "week"},
    "weight": {"lb": "pound", "kg": "kilogram"},
    "energy": {"kWh": "kilowatt*hour", "MWh": "megawatt*hour", "Wh": "watt*hour"},
    "fuel_rate": {"gal/h": "gallon/hour", "L/h": "liter/hour"},
    "conductor_resistance": {"ohm/kft": "ohm/(1000*foot)", "ohm/km": "ohm/kilometer"},
    "resistance": {"ohm": "ohm", "milliohm": "milliohm", "kilohm": "kiloohm", "megohm": "megaohm"},
    "load_current": {"A": "ampere", "kA": "kiloampere", "mA": "milliampere"},
    "fault_current": {
        "kA": "kiloampere", "A": "ampere", "kAIC": "kiloampere", "AIC": "ampere", "kAIR": "kiloampere", "AIR": "ampere",
    },
    "voltage": {"V": "volt", "kV": "kilovolt", "mV": "millivolt"},
    "dc_voltage": {"V dc": "volt", "mV dc": "millivolt"},
    "active_power": {"W": "watt", "kW": "kilowatt", "MW": "megawatt"},
    "apparent_power": {"VA": "volt*ampere", "kVA": "kilovolt*ampere", "MVA": "megavolt*ampere"},
    "reactive_power": {"var": "volt*ampere", "kvar": "kilovolt*ampere", "Mvar": "megavolt*ampere"},
    "load_density": {"VA/ft2": "volt*ampere/foot**2", "VA/m2": "volt*ampere/meter**2"},
    "temperature_difference": {"°C": "delta_degC", "°F": "delta_degF"},
    "battery_capacity": {"Ah": "ampere*hour"},
    "frequency": {"Hz": "hertz"},
}  # fmt: skip
WITHOUT_ORACLE = {
    "motor_power", "locked_rotor_input", "temperature", "ratio", "plain_number", "sound_level", "sound_difference",
    "speed", "unweighted_sound_level",
}  # fmt: skip


@pytest.fixture(scope="module")
def oracle() -> pint.UnitRegistry:
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(("name", "unit", "si_unit", "printed"), PRINTED)
def test_printed_factors(name: str, unit: str, si_unit: str, printed: str) -> None:
    units = kind(name).units
    factor = units[unit].factor / units[si_unit].factor
    assert abs(factor - Fraction(printed)) <= Fraction(printed) / 2 * Fraction(1, 10**6)


@pytest.mark.parametrize("name", sorted(ORACLE))
def test_factors_against_another_library(name: str, oracle: pint.UnitRegistry) -> None:
    measure = kind(name)
    assert set(ORACLE[name]) == set(measure.symbols)
    base = oracle.parse_expression(ORACLE[name][measure.base_unit])
    for symbol, theirs in ORACLE[name].items():
        expected = oracle.parse_expression(theirs) / base
        factor = Fraction(expected.to_base_units().magnitude)
        # The oracle keeps some of its constants to about fifteen digits.
        assert abs(measure.units[symbol].factor - factor) <= factor * Fraction(1, 10**14), symbol


def test_every_kind_is_checked_or_has_no_unit_to_check() -> None:
    assert set(ORACLE) | WITHOUT_ORACLE == set(KINDS)


@pytest.mark.parametrize(
    ("celsius", "fahrenheit"), [("0", "32"), ("100", "212"), ("-40", "-40"), ("75", "167"), ("30", "86")]
)
def test_temperature_has_its_own_zero(celsius: str, fahrenheit: str) -> None:
    units = kind("temperature").units
    assert units["°F"].to_base(Fraction(fahrenheit)) == Fraction(celsius)
    assert units["°F"].from_base(Fraction(celsius)) == Fraction(fahrenheit)


def test_exact_factors() -> None:
    assert kind("length").units["in"].factor * 12 == 1
    assert kind("volume").units["in3"].factor * 231 == 1
    assert kind("pressure").units["Pa"].factor * Fraction("249.08891") == 1
    assert kind("heat_rate").units["W"].factor * Fraction("1055.05585262") == 3600


@pytest.mark.parametrize("name", sorted(KINDS))
def test_a_kind_is_whole(name: str) -> None:
    measure = kind(name)
    assert measure.name == name
    base = measure.unit(measure.base_unit)
    assert base is not None
    assert base.factor == 1
    assert base.offset == 0
    assert measure.unit(measure.shown_unit) is not None
    assert len(set(measure.symbols)) == len(measure.symbols)
    for symbol in measure.symbols:
        unit = measure.unit(symbol)
        assert unit is not None
        assert unit.symbol == symbol
        assert unit.factor > 0


@pytest.mark.parametrize("name", sorted(KINDS))
def test_no_spelling_means_two_units_of_one_kind(name: str) -> None:
    measure = kind(name)
    for spelled, unit in measure.units.items():
        assert measure.unit(spelled) == unit
        again = measure.unit(spelling_of(spelled))
        assert again == unit, spelled


def test_only_ratios_and_plain_numbers_go_without_a_unit() -> None:
    assert {name for name, measure in KINDS.items() if measure.bare_allowed} == {"ratio", "plain_number"}


def test_mega_is_told_from_milli() -> None:
    power = kind("active_power")
    assert power.unit("MW") is not None
    assert power.unit("Mw") == power.unit("MW")
    assert power.unit("mW") is None
    assert power.unit("mw") is None
    assert kind("load_current").unit("mA") == kind("load_current").unit("ma")
    assert kind("load_current").unit("MA") is None
    assert kind("resistance").unit("MΩ") != kind("resistance").unit("mΩ")


def test_an_unknown_kind_names_the_nearest() -> None:
    with pytest.raises(KeyError, match="nearest: length"):
        kind("lenght")
    with pytest.raises(KeyError, match="xyzzy is no kind of quantity"):
        kind("xyzzy")

"""The units of each kind of quantity: symbol, exact factor to the base unit, how else it is typed.

Factors: NIST Special Publication 811 (2008), appendix B.8 and B.9, which gives each as exact or to seven digits; what
is not exact there is built from what is: the inch, the pound, standard gravity, 231 cubic inches to the gallon, and the
calorie of the International Table behind its BTU. Trade units that are not there (MBH, cfh, kAIC) are plain words for
powers of ten.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

_FOOT = Fraction("0.3048")
"""Metres, exact."""
_INCH = _FOOT / 12
_GALLON = 231 * _INCH**3 * 1000
"""Litres in a US gallon: 231 cubic inches, exact."""
_CUBIC_FOOT = _FOOT**3
"""Cubic metres, exact."""
_POUND = Fraction("0.45359237")
"""Kilograms, exact."""
_GRAVITY = Fraction("9.80665")
"""Standard acceleration of free fall in metres per second squared, exact."""
_PSI = _POUND * _GRAVITY / _INCH**2
"""Pascals, about 6894.757."""
_INCH_OF_WATER = 1000 * _GRAVITY * _INCH
"""Pascals: conventional inch of water, 1000 kg/m3, exactly 249.08891. Fuel gas tables take 27.7 of them to the psi."""
_INCH_OF_MERCURY = Fraction("13595.1") * _GRAVITY * _INCH
"""Pascals: conventional inch of mercury, 13 595.1 kg/m3, about 3386.389."""
_BTU = Fraction("4186.8") * _POUND * Fraction(5, 9)
"""Joules in an International Table BTU: a pound of water by one degree Fahrenheit, exactly 1055.05585262."""


@dataclass(frozen=True, slots=True)
class UnitRow:
    """One unit: number in base units = factor x number typed + offset."""

    symbol: str
    factor: Fraction | int
    spellings: tuple[str, ...] = ()
    offset: Fraction | int = 0


@dataclass(frozen=True, slots=True)
class KindRow:
    """One kind of quantity; the units that are suggested to a person come first."""

    name: str
    base_unit: str
    shown_unit: str
    units: tuple[UnitRow, ...]
    label: str = ""
    fractions: bool = False


def _unit(symbol: str, factor: Fraction | int | str = 1, spellings: str = "", offset: Fraction | int = 0) -> UnitRow:
    return UnitRow(symbol, Fraction(factor), tuple(spellings.split("|")) if spellings else (), offset)


def _row(
    name: str, base: str, units: Iterable[UnitRow], shown: str = "", label: str = "", *, fractions: bool = False
) -> KindRow:
    return KindRow(name, base, shown or base, tuple(units), label, fractions)


KIND_ROWS: tuple[KindRow, ...] = (
    _row("load_current", "A", [
        _unit("A", 1, "amp|amps|ampere|amperes"),
        _unit("kA", 1000, "kiloamp|kiloamps"),
        _unit("mA", "1/1000", "milliamp|milliamps|milliampere|milliamperes"),
    ]),
    _row("fault_current", "A", [
        _unit("kA", 1000, "k A|kiloamp|kiloamps|kA rms|kA sym|kA rms sym|kA symmetrical|kA rms symmetrical|kA SCCR"
                          "|kA WCR"),
        _unit("A", 1, "amp|amps|ampere|amperes|A rms|A sym|A rms sym|amps rms|amps rms sym|A SCCR|A WCR"
                      "|rms symmetrical amps|rms symmetrical amperes"),
        _unit("kAIC", 1000, "k AIC|kA IC"),
        _unit("AIC", 1, "A IC|amps interrupting"),
        _unit("kAIR", 1000, "k AIR|kA IR"),
        _unit("AIR", 1, "A IR"),
    ], "kA"),
    _row("voltage", "V", [
        _unit("V", 1, "volt|volts|VAC|V ac|volts ac"), _unit("kV", 1000, "kilovolt|kilovolts"),
        _unit("mV", "1/1000", "millivolt|millivolts"),
    ]),
    _row("dc_voltage", "V dc", [_unit("V dc", 1, "V|volt|volts|VDC|volts dc"), _unit("mV dc", "1/1000", "mV")],
         label="dc voltage"),
    _row("active_power", "W", [
        _unit("kW", 1000, "kilowatt|kilowatts|kWe|kW e"), _unit("W", 1, "watt|watts"),
        _unit("MW", 1_000_000, "megawatt|megawatts"),
    ], "kW"),
    _row("apparent_power", "VA", [
        _unit("kVA", 1000, "kilovolt amperes|kV A"), _unit("VA", 1, "volt ampere|volt amperes|volt amps"),
        _unit("MVA", 1_000_000, "megavolt amperes"),
    ], "kVA"),
    _row("reactive_power", "var", [
        _unit("kvar", 1000, "kvars"), _unit("var", 1, "vars"), _unit("Mvar", 1_000_000, "megavars"),
    ], "kvar"),
    _row("motor_power", "hp", [_unit("hp", 1, "horsepower")], label="motor horsepower", fractions=True),
    _row("locked_rotor_input", "kVA/hp", [_unit("kVA/hp", 1, "kVA per hp|kVA/horsepower")]),
    _row("length", "ft", [
        _unit("in", "1/12", '"|inch|inches|\'\''), _unit("ft", 1, "'|foot|feet"), _unit("yd", 3, "yard|yards"),
        _unit("mi", 5280, "mile|miles"), _unit("m", 1 / _FOOT, "meter|meters|metre|metres"),
        _unit("mm", Fraction(1, 1000) / _FOOT, "millimeter|millimeters|millimetre|millimetres"),
        _unit("cm", Fraction(1, 100) / _FOOT, "centimeter|centimeters|centimetre|centimetres"),
        _unit("km", 1000 / _FOOT, "kilometer|kilometers|kilometre|kilometres"),
    ], fractions=True),
    _row("area", "ft2", [
        _unit("ft2", 1, "sq ft|sf|square feet|square foot"),
        _unit("m2", 1 / _FOOT**2, "sq m|square meters|square metres"),
        _unit("in2", "1/144", "sq in|square inches|square inch"),
    ]),
    _row("volume", "gal", [
        _unit("gal", 1, "gals|gallon|gallons|US gal|US gallons"),
        _unit("L", 1 / _GALLON, "liter|liters|litre|litres"),
        _unit("ft3", Fraction(1728, 231), "cu ft|cf|cubic feet|cubic foot"),
        _unit("m3", 1000 / _GALLON, "cu m|cubic meters|cubic metres"),
        _unit("in3", "1/231", "cu in|cubic inches|cubic inch"), _unit("qt", "1/4", "quart|quarts"),
    ], fractions=True),
    _row("gas_flow", "ft3/h", [
        _unit("ft3/h", 1, "ft3/hr|ft3/hour|cu ft/h|cu ft/hr|cu ft/hour|cubic feet/hour|cf/h|cf/hr"),
        _unit("cfh", 1, "scfh"), _unit("m3/h", 1 / _CUBIC_FOOT, "m3/hr|m3/hour|cu m/h|cu m/hr|cubic meters/hour"),
    ]),
    _row("air_flow", "cfm", [
        _unit("cfm", 1, "scfm|ft3/min|cu ft/min|cubic feet/minute"), _unit("m3/h", 1 / (60 * _CUBIC_FOOT), "m3/hr"),
        _unit("m3/min", 1 / _CUBIC_FOOT, "cubic meters/minute"), _unit("m3/s", 60 / _CUBIC_FOOT, "cubic meters/second"),
        _unit("L/s", Fraction(60, 1000) / _CUBIC_FOOT, "liters/second|litres/second"),
    ]),
    _row("heat_rate", "BTU/h", [
        _unit("BTU/h", 1, "BTUh|BTU/hr|BTU/hour|BTUs/hour|BTUs/h"), _unit("MBH", 1000, "thousand BTU/h"),
        _unit("kBTU/h", 1000, "kBTU/hr|kBTUh|kBTU/hour"), _unit("MMBTU/h", 1_000_000, "MMBTU/hr|MMBTUh|million BTU/h"),
        _unit("kW", 3_600_000 / _BTU, "kilowatt|kilowatts"), _unit("W", 3600 / _BTU, "watt|watts"),
    ]),
    _row("heating_value", "BTU/ft3", [
        _unit("BTU/ft3", 1, "BTU/cu ft|BTU/cf|BTU/scf|BTU/cubic foot"),
        _unit("MJ/m3", 1_000_000 * _CUBIC_FOOT / _BTU, "MJ/cu m|megajoules/cubic meter"),
    ], label="heating value of a gas"),
    _row("liquid_heating_value", "BTU/gal", [
        _unit("BTU/gal", 1, "BTU/gallon"), _unit("MJ/L", 1_000_000 * _GALLON / _BTU, "MJ/liter|MJ/litre"),
    ], label="heating value of a liquid fuel"),
    _row("pressure", "in wc", [
        _unit("in wc", 1, "inches wc|inch wc|\" wc|wc in|iwc|in water|in water column|inches water column"
                          "|inches of water|inches of water column|in of water|in H2O|inches H2O|\" H2O|in wg|\" wg"),
        _unit("psi", _PSI / _INCH_OF_WATER, "psig|lb/in2|lbs/in2|lb/sq in|lbs/sq in|pounds/square inch"),
        _unit("kPa", 1000 / _INCH_OF_WATER, "kilopascal|kilopascals"),
        _unit("mbar", 100 / _INCH_OF_WATER, "millibar|millibars"), _unit("Pa", 1 / _INCH_OF_WATER, "pascal|pascals"),
        _unit("bar", 100_000 / _INCH_OF_WATER), _unit("oz/in2", _PSI / 16 / _INCH_OF_WATER, "osi|oz/sq in"),
        _unit("in Hg", _INCH_OF_MERCURY / _INCH_OF_WATER, "inches Hg|\" Hg|inches of mercury|in of mercury"),
    ], fractions=True),
    _row("temperature", "°C", [
        _unit("°C", 1, "C|deg C|degs C|degree C|degrees C|degrees Celsius|Celsius|centigrade"),
        _unit("°F", "5/9", "F|deg F|degs F|degree F|degrees F|degrees Fahrenheit|Fahrenheit", Fraction(-160, 9)),
    ]),
    _row("temperature_difference", "°C", [
        _unit("°C", 1, "C|deg C|degrees C|degrees Celsius|K|kelvin"),
        _unit("°F", "5/9", "F|deg F|degrees F|degrees Fahrenheit"),
    ]),
    _row("duration", "s", [
        _unit("s", 1, "sec|secs|second|seconds"), _unit("min", 60, "mins|minute|minutes"),
        _unit("h", 3600, "hr|hrs|hour|hours"), _unit("ms", "1/1000", "msec|millisecond|milliseconds"),
        _unit("d", 86_400, "day|days"), _unit("wk", 604_800, "week|weeks"),
    ], label="a length of time", fractions=True),
    _row("frequency", "Hz", [_unit("Hz", 1, "hertz")]),
    _row("ratio", "pu", [
        _unit("%", "1/100", "percent|pct|per cent"), _unit("pu", 1, "per unit"), _unit("", 1),
    ], "%", label="a percentage or ratio", fractions=True),
    _row("plain_number", "", [_unit("")], label="a plain number", fractions=True),
    _row("sound_level", "dBA", [_unit("dBA", 1, "dB(A)|dB (A)|A weighted dB|decibels A")]),
    _row("unweighted_sound_level", "dB", [
        _unit("dB", 1, "dB(Z)|dBZ|unweighted dB"),
    ], label="a sound level without weighting"),
    _row("sound_difference", "dB", [_unit("dB", 1, "decibel|decibels|dBA|dB(A)")]),
    _row("weight", "lb", [
        _unit("lb", 1, "lbs|pound|pounds"), _unit("kg", 1 / _POUND, "kgs|kilogram|kilograms"),
    ]),
    _row("resistance", "ohm", [
        _unit("ohm", 1, "ohms|Ω"), _unit("milliohm", "1/1000", "milliohms|mΩ|mohm|mohms"),
        _unit("kilohm", 1000, "kilohms|kohm|kohms|kΩ"),
        _unit("megohm", 1_000_000, "megohms|MΩ|Mohm|Mohms|megaohm|megaohms"),
    ]),
    _row("conductor_resistance", "ohm/kft", [
        _unit("ohm/kft", 1, "ohms/kft|Ω/kft|ohm/1000 ft|ohms/1000 ft|Ω/1000 ft|ohm/1,000 ft|ohms/1,000 ft"),
        _unit("ohm/km", _FOOT, "ohms/km|Ω/km"),
    ]),
    _row("energy", "kWh", [
        _unit("kWh", 1, "kW h|kW hr|kilowatt hours|kilowatt hour"), _unit("MWh", 1000, "megawatt hours"),
        _unit("Wh", "1/1000", "W h|watt hours"),
    ]),
    _row("battery_capacity", "Ah", [_unit("Ah", 1, "A h|A hr|amp hour|amp hours|ampere hours")]),
    _row("speed", "rpm", [_unit("rpm", 1, "r/min|rev/min|revs/min|revolutions/minute")]),
    _row("fuel_rate", "gal/h", [
        _unit("gal/h", 1, "gph|gal/hr|gal/hour|gallons/h|gallons/hr|gallons/hour|US gal/h|US gal/hr"),
        _unit("L/h", 1 / _GALLON, "lph|L/hr|liters/h|litres/h|liters/hr|liters/hour|litres/hour"),
    ], fractions=True),
    _row("load_density", "VA/ft2", [
        _unit("VA/ft2", 1, "VA/sq ft|VA/sf|volt amperes/square foot"), _unit("VA/m2", _FOOT**2, "VA/sq m"),
    ]),
)  # fmt: skip
"""Every kind of quantity with its units, the units that are suggested first."""

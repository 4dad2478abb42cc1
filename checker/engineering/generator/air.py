"""The air that an engine breathes: its pressure by altitude, and the pressure of steam in it by temperature.

    p = 101.325 kPa (1 - 6.5 K/km H / 288.15 K)^5.25588     standard atmosphere up to 11 km (ISO 2533)
    p_s = 0.61094 kPa exp(17.625 t / (t + 243.04))          Magnus formula, t in °C (Alduchov and Eskridge, 1996)

The pressure of a day may lie some 3 % above or below that of the standard atmosphere.
"""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.powers import exponential, power

_AT_SEA_LEVEL, _WARMTH, _LAPSE, _EXPONENT = (
    Fraction("101.325"),
    Fraction("288.15"),
    Fraction("0.0065"),
    Fraction("5.25588"),
)
_METERS_IN_A_FOOT, _LOWEST, _HIGHEST = Fraction("0.3048"), Fraction(-2000), Fraction(11_000)
_AT_FREEZING, _STEEPNESS, _OFFSET = Fraction("0.61094"), Fraction("17.625"), Fraction("243.04")
_COLDEST, _HOTTEST = Fraction(-40), Fraction(50)


def barometric_pressure(altitude: Fraction) -> Fraction:
    """kPa at an altitude in feet; falls with it. OutsideLimits above 11 km and far below the sea."""
    meters = altitude * _METERS_IN_A_FOOT
    if not _LOWEST <= meters <= _HIGHEST:
        raise OutsideLimits("The standard atmosphere is used up to 36,000 ft.")
    return _AT_SEA_LEVEL * power(1 - _LAPSE * meters / _WARMTH, _EXPONENT)


def steam_pressure(temperature: Fraction) -> Fraction:
    """kPa of saturated steam at a temperature in °C; rises with it. OutsideLimits below -40 °C and above 50 °C."""
    if not _COLDEST <= temperature <= _HOTTEST:
        raise OutsideLimits("The pressure of steam in the air is worked out from -40 °F to 122 °F.")
    return _AT_FREEZING * exponential(_STEEPNESS * temperature / (temperature + _OFFSET))

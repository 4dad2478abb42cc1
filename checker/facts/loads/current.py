"""A load as a current: I = S / (k V), k one for one phase and the square root of three for three."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.facts.derivation import Context
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between

VOLTAGE, PHASES = "system.voltage", "system.phases"
_NOTHING, _UNITY = Fraction(0), Fraction(1)


def amperes(context: Context, subject: Subject, power: Fraction) -> Fraction | None:
    """A power in VA as the current of a balanced load on the system of a source; None where that is not known."""
    volts, phases = context.read(subject, VOLTAGE).number, context.read(subject, PHASES).number
    if volts is None or phases is None or volts <= 0:
        return None
    try:
        current = FULL_LOAD_CURRENT.function(
            {"power": power, "voltage": volts, "power_factor": _UNITY, "phases": phases}
        )
    except OutsideLimits:
        return None
    return rounded(current)


def currents(context: Context, subject: Subject, least: Fraction, most: Fraction | None) -> Possible:
    """Both ends of a load in amperes; anything from zero on where the system is not known."""
    low = amperes(context, subject, least)
    if low is None:
        return between(_NOTHING, None)
    return between(low, None if most is None else amperes(context, subject, most))

"""How much vapor a propane tank above ground gives, by its size, how full it is, and how cold it is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked

_INCHES = 12


@dataclass(frozen=True, slots=True)
class FactorRow:
    """From this fill (share of the tank) or temperature (°C) on, this factor counts."""

    at: Fraction
    factor: Fraction


@dataclass(frozen=True, slots=True)
class VaporizationFactors:
    """The two printed lists, in rising order, and where they come from.

    ``by_fill`` gives K in BTU/h per square inch at 0 °F, ``by_temperature`` what K is multiplied by.
    """

    by_fill: tuple[FactorRow, ...]
    by_temperature: tuple[FactorRow, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Tank:
    """A horizontal tank above ground: outside diameter and overall length in ft, the least fill that is let come to
    (share of the tank), the coldest air for which it is looked at (°C).
    """

    diameter: Fraction
    length: Fraction
    fill: Fraction
    temperature: Fraction
    factors: VaporizationFactors


def vaporization(case: Tank) -> Worked:
    """Vapor in BTU/h: diameter x length (inches) x K by fill x factor by temperature.

    Between two printed lines the lower one counts. Rises with diameter, length, fill and temperature. Limits: a
    horizontal tank above ground; a buried tank lives on the warmth of the ground and is outside. A trade rule of the
    propane handbooks; makers' lists differ from it, up to twice the tank in mild weather and less in hard frost, so the
    supplier of the gas goes before it.
    """
    if case.diameter <= 0 or case.length <= 0:
        raise OutsideLimits("A tank needs a diameter and a length above zero.")
    paper = Paper()
    diameter = paper.write("outside diameter", "given", case.diameter * _INCHES, "in")
    length = paper.write("overall length", "given", case.length * _INCHES, "in")
    fill = _factor(case.factors.by_fill, case.fill, "a fill", f"{float(case.fill * 100):g} %", case.factors.source)
    factor = paper.write("K", f"{float(case.fill * 100):g} % full", fill, "BTU/h/in2", case.factors.source)
    cold = f"{float(case.temperature):g} °C"
    warmth = _factor(case.factors.by_temperature, case.temperature, "a temperature", cold, case.factors.source)
    step = paper.write("factor of temperature", f"at {cold}", warmth, "", case.factors.source)
    how = " x ".join(each.letter for each in (diameter, length, factor, step))
    paper.write("vapor", how, diameter.value * length.value * factor.value * step.value, "BTU/h")
    return paper.result()


def _factor(rows: tuple[FactorRow, ...], value: Fraction, what: str, written: str, source: str) -> Fraction:
    reached = [row for row in rows if row.at <= value]
    if not reached:
        raise OutsideLimits(f"{source} has no line for {what} of {written}.")
    return reached[-1].factor


VAPORIZATION: Method[Tank] = Method(
    "propane_vaporization",
    "Vapor that a propane tank gives",
    "diameter x length x K by fill x factor by temperature",
    "trade rule of the propane handbooks",
    "Horizontal tank above ground; a trade rule, the supplier of the gas goes before it.",
    {
        "diameter": Direction.RISES,
        "length": Direction.RISES,
        "fill": Direction.RISES,
        "temperature": Direction.RISES,
    },
    vaporization,
)

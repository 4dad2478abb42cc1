"""Voltage lost along conductors: by their area and the constant K, and by resistance, reactance and power factor.

No section sets a limit for standby power: 3 % on a feeder and 5 % in all are an informational note (NFPA 70, 215.2).
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.powers import ROOT_OF_THREE, square_root

_WAYS = {Fraction(1): Fraction(2), Fraction(3): ROOT_OF_THREE}
"""Single phase: out and back. Three phases, balanced: the root of three, between two lines."""


def _ways(point: Mapping[str, Fraction]) -> Fraction:
    factor = _WAYS.get(point["phases"])
    if factor is None:
        raise OutsideLimits("Voltage drop is worked out for one or three phases.")
    if point["sets"] < 1:
        raise OutsideLimits("Voltage drop needs one conductor in each phase at least.")
    if point["current"] < 0 or point["length"] < 0:
        raise OutsideLimits("Voltage drop needs a current and a length of zero or more.")
    return factor


def _by_area(point: Mapping[str, Fraction]) -> Fraction:
    factor = _ways(point)
    if point["area"] <= 0 or point["constant"] < 0:
        raise OutsideLimits("Voltage drop needs an area and a constant above zero.")
    return factor * point["constant"] * point["current"] * point["length"] / (point["area"] * point["sets"])


def effective_impedance(resistance: Fraction, reactance: Fraction, power_factor: Fraction) -> Fraction:
    """Ze = R pf + X sin(arccos pf), in the unit of R and X: the share of the impedance that lowers the voltage of a
    lagging load (note 2 of chapter 9, Table 9). Power factor from 0 to 1.
    """
    if not 0 <= power_factor <= 1:
        raise OutsideLimits("Voltage drop needs a power factor from zero to one.")
    return resistance * power_factor + reactance * square_root(1 - power_factor**2)


def _by_impedance(point: Mapping[str, Fraction]) -> Fraction:
    factor = _ways(point)
    if point["resistance"] < 0 or point["reactance"] < 0:
        raise OutsideLimits("Voltage drop needs a resistance and a reactance of zero or more.")
    each = effective_impedance(point["resistance"], point["reactance"], point["power_factor"])
    return factor * point["current"] * each * point["length"] / (1000 * point["sets"])


_CURRENT = Input("current", "current of the load", "load_current", Direction.RISES)
_LENGTH = Input("length", "length of the run, one way", "length", Direction.RISES)
_SETS = Input("sets", "conductors in parallel", "count", Direction.FALLS)
_PHASES = Input("phases", "phases", "count", Direction.NEITHER)

VOLTAGE_DROP_BY_AREA = Calculation(
    name="voltage_drop_by_area",
    title="Voltage drop by the area of the conductors",
    inputs=(
        Input("constant", "resistance of a foot of one circular mil", "plain_number", Direction.RISES),
        _CURRENT,
        _LENGTH,
        Input("area", "area of a conductor in circular mils", "plain_number", Direction.FALLS),
        _SETS,
        _PHASES,
    ),
    gives="voltage",
    unit="V",
    formula="V = k x K x I x L / (CM x n), k = 2 for one phase, square root of 3 for three phases",
    source="textbooks of the trade; K is about 12.9 for copper and 21.2 for aluminum at 75 °C (common practice)",
    limits="Resistance alone: reactance and power factor are left out, so large conductors lose more than this.",
    function=_by_area,
)
"""V = k K I L / (CM n) between two lines, in volts.

K in ohm circular mils per foot, I in amperes, L one way in feet, CM in circular mils, n conductors in parallel; k is
two for one phase (out and back) and the square root of three for three. The usual formula of the trade.
"""

VOLTAGE_DROP_BY_IMPEDANCE = Calculation(
    name="voltage_drop_by_impedance",
    title="Voltage drop by resistance, reactance and power factor",
    inputs=(
        Input("resistance", "resistance of each conductor", "conductor_resistance", Direction.RISES),
        Input("reactance", "reactance of each conductor", "conductor_resistance", Direction.RISES),
        Input("power_factor", "power factor of the load", "ratio", Direction.NEITHER),
        _CURRENT,
        _LENGTH,
        _SETS,
        _PHASES,
    ),
    gives="voltage",
    unit="V",
    formula="V = k x I x (R pf + X sin(arccos pf)) x L / (1000 n)",
    source="NFPA 70, chapter 9, Table 9, note 2",
    limits="A lagging load. The drop is about this while it is small; the vector I Z is longer and is not the drop.",
    function=_by_impedance,
)
"""V = k I (R pf + X sin(arccos pf)) L / (1000 n) between two lines, in volts.

R and X of one conductor in ohms per 1000 ft, L one way in feet, the load lagging. NFPA 70, chapter 9, Table 9, note 2.
"""

DROP_IN_PERCENT = Calculation(
    name="voltage_drop_ratio",
    title="Voltage drop as a share of the voltage",
    inputs=(
        Input("drop", "voltage drop", "voltage", Direction.RISES),
        Input("voltage", "voltage at the source", "voltage", Direction.FALLS),
    ),
    gives="ratio",
    unit="%",
    formula="drop / voltage",
    source="definition",
    limits="Both between the same two conductors.",
    function=lambda point: _share(point["drop"], point["voltage"]),
)
"""Drop over voltage, both in volts and between the same conductors, as a ratio (0.03 is 3 %)."""


def _share(drop: Fraction, voltage: Fraction) -> Fraction:
    if voltage <= 0 or drop < 0:
        raise OutsideLimits("The share of a voltage drop needs a voltage above zero and no negative drop.")
    return drop / voltage

"""Voltage systems as they stand on a nameplate or in a utility letter: 120/240 V 1-phase 3-wire, 480Y/277."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.values.number_text import decimal_text
from checker.values.refusals import NotationError, quoted
from checker.values.voltage_words import SystemWords, read_words

SINGLE = "single"
SPLIT = "split"
WYE = "wye"
DELTA = "delta"
HIGH_LEG_DELTA = "high_leg_delta"
CORNER_GROUNDED_DELTA = "corner_grounded_delta"
WYE_LEGS = "wye_legs"

_LINE_TO_NEUTRAL = frozenset({110, 115, 120, 127, 265, 277, 347, 2400, 7200, 7620, 7970, 14_400, 19_920})
_LINE_TO_LINE = frozenset({208, 220, 230, 240, 460, 480, 575, 600, 4160, 12_470, 13_200, 13_800, 24_940, 34_500})
"""Voltages of two-wire circuits with one and with two hot wires: nominal voltages of ANSI C84.1, common practice."""

_OFTEN_MEANT: Mapping[Fraction, str] = {
    Fraction(208): "208Y/120 V 3-phase 4-wire",
    Fraction(480): "480Y/277 V 3-phase 4-wire",
    Fraction(600): "600Y/347 V 3-phase 4-wire",
}

_WYE_SQUARES = (Fraction(294, 100), Fraction(306, 100))
"""A wye has the square root of three between its two voltages; nominal voltages are rounded, so within one per cent."""


@dataclass(frozen=True, slots=True)
class VoltageSystem:
    """One kind of supply.

    ``voltage`` is between phase conductors (between the two conductors of a two-wire circuit), in volts;
    ``voltage_to_neutral`` is None where there is no neutral. ``ungrounded`` counts the conductors that a disconnect
    must open. ``connection`` is single, split, wye, wye_legs (two legs and neutral of a wye), delta (three wires: the
    source may still be a wye whose neutral is not carried), high_leg_delta or corner_grounded_delta.
    """

    name: str
    voltage: Fraction
    voltage_to_neutral: Fraction | None
    phases: int
    wires: int | None
    ungrounded: int
    connection: str


def read_system(text: str) -> VoltageSystem:
    """A system as the trade types it; NotationError where what is written fits several systems, or none."""
    words = read_words(text)
    if words.low is not None:
        return _two_voltages(words, words.low)
    return _three_phase(words) if words.phases == 3 or words.delta or words.corner else _one_voltage(words)


def _two_voltages(words: SystemWords, low: Fraction) -> VoltageSystem:
    if words.high == 2 * low:
        return _halves(words, low)
    if _WYE_SQUARES[0] <= (words.high / low) ** 2 <= _WYE_SQUARES[1]:
        return _wye(words, low)
    raise NotationError(
        f"{_volts(words.high)} V and {_volts(low)} V are not the voltages of one system.",
        "Write one system, as 120/240 V 1-phase 3-wire or 208Y/120 V 3-phase 4-wire.",
    )


def _halves(words: SystemWords, low: Fraction) -> VoltageSystem:
    """Two voltages of which one is twice the other: split single phase, or a delta with a high leg."""
    high_leg = f"{_volts(words.high)}/{_volts(low)} V 3-phase 4-wire high leg"
    split = f"{_volts(low)}/{_volts(words.high)} V 1-phase 3-wire"
    if words.wye or words.corner:
        raise _contradiction(words, f"Write {split} or {high_leg}.")
    one_phase = words.phases == 1 or (words.phases is None and words.wires == 3)
    if one_phase and words.wires in (None, 3) and not (words.delta or words.high_leg):
        return VoltageSystem(split, words.high, low, 1, 3, 2, SPLIT)
    three_phase = words.phases == 3 or (words.phases is None and words.high_leg)
    if three_phase and (words.wires == 4 or (words.wires is None and words.high_leg)):
        return VoltageSystem(high_leg, words.high, low, 3, 4, 3, HIGH_LEG_DELTA)
    if words.phases is None or (words.phases == 3 and words.wires is None):
        raise _open(words, f"Write {split} or {high_leg}.")
    raise _contradiction(words, f"Write {split} or {high_leg}.")


def _wye(words: SystemWords, low: Fraction) -> VoltageSystem:
    """Two voltages that stand as in a wye: all of it, or two legs of it with the neutral."""
    whole = f"{_volts(words.high)}Y/{_volts(low)} V 3-phase 4-wire"
    legs = f"{_volts(low)}/{_volts(words.high)} V 1-phase 3-wire"
    if words.delta or words.high_leg or words.corner:
        raise _contradiction(words, f"Write {whole}.")
    if words.phases == 1 and words.wires in (None, 3):
        return VoltageSystem(legs, words.high, low, 1, 3, 2, WYE_LEGS)
    if (words.phases == 3 or (words.phases is None and words.wye)) and words.wires in (None, 3, 4):
        wires = words.wires or 4
        name = f"{_volts(words.high)}Y/{_volts(low)} V 3-phase {wires}-wire"
        return VoltageSystem(name, words.high, low, 3, wires, 3, WYE)
    if words.phases is None:
        raise _open(words, f"Write {whole} or {legs}.")
    raise _contradiction(words, f"Write {whole} or {legs}.")


def _three_phase(words: SystemWords) -> VoltageSystem:
    """One voltage and three phases: three wires without a neutral."""
    volts = _volts(words.high)
    name = f"{volts} V 3-phase 3-wire"
    if words.wye or words.high_leg or words.wires == 4:
        raise _open(words, f"Write both voltages, as {_example(words.high)} or 240/120 V 3-phase 4-wire high leg.")
    if words.phases == 1 or words.wires not in (None, 3):
        raise _contradiction(words, f"Write {name}.")
    if words.corner:
        return VoltageSystem(f"{name} corner-grounded", words.high, None, 3, 3, 2, CORNER_GROUNDED_DELTA)
    if words.wires is None and not words.delta:
        raise _open(words, f"Write {name}, or both voltages if there is a neutral.")
    return VoltageSystem(name, words.high, None, 3, 3, 3, DELTA)


def _one_voltage(words: SystemWords) -> VoltageSystem:
    """One voltage and not three phases: two wires, one or both of them hot."""
    volts = _volts(words.high)
    two_wire = f"{volts} V 1-phase 2-wire"
    if words.wye or words.high_leg or words.wires not in (None, 2):
        raise _open(words, f"Write both voltages, as {_example(words.high)}, or {two_wire}.")
    if words.phases is None or words.wires is None:
        raise _open(words, f"Write {two_wire}, {_example(words.high)} or {volts} V 3-phase 3-wire.")
    if words.high in _LINE_TO_NEUTRAL:
        return VoltageSystem(two_wire, words.high, words.high, 1, 2, 1, SINGLE)
    if words.high in _LINE_TO_LINE:
        return VoltageSystem(two_wire, words.high, None, 1, 2, 2, SINGLE)
    raise NotationError(
        f"{quoted(words.text)} is not a usual voltage, so one or both wires may be hot.",
        "Write the nominal voltage, as 120 V or 240 V 1-phase 2-wire.",
    )


def _example(voltage: Fraction) -> str:
    """A system of two voltages that a single figure may stand for."""
    return _OFTEN_MEANT.get(voltage, "120/240 V 1-phase 3-wire")


def _open(words: SystemWords, remedy: str) -> NotationError:
    return NotationError(f"{quoted(words.text)} does not say which system it is.", remedy)


def _contradiction(words: SystemWords, remedy: str) -> NotationError:
    return NotationError(
        f"{quoted(words.text)} is no system: its voltages, phases and wires do not go together.", remedy
    )


def _volts(voltage: Fraction) -> str:
    return decimal_text(voltage, 3).replace(",", "")

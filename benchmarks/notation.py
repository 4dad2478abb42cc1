"""Quantities as people write them against ``float`` on their bare numbers."""

from __future__ import annotations

from collections.abc import Callable

from benchmarks.timing import Spread, in_turn, repeated
from checker.values.quantities import read_quantity

FLOAT, QUANTITY = "float()", "read_quantity()"

_WRITTEN = (
    ("200 A", "load_current", "200"),
    ("9,600 A", "fault_current", "9600"),
    ("9.6 kA", "fault_current", "9.6"),
    ("22kW", "active_power", "22"),
    ("19.5 kW", "active_power", "19.5"),
    ("240 V", "voltage", "240"),
    ("28 ft", "length", "28"),
    ("5'-6\"", "length", "5.5"),
    ("1-1/4 in", "length", "1.25"),
    ("115 %", "ratio", "1.15"),
    ("95 F", "temperature", "95"),
    ("60 Hz", "frequency", "60"),
)


def reading(rounds: int) -> dict[str, Spread]:
    """Processor seconds for one quantity, on average over a dozen that differ in kind and notation."""
    return in_turn({FLOAT: _each(_floats), QUANTITY: _each(_quantities)}, rounds)


def _each(work: Callable[[], None]) -> Callable[[], float]:
    whole = repeated(work)
    return lambda: whole() / len(_WRITTEN)


def _floats() -> None:
    for _, _, bare in _WRITTEN:
        float(bare)


def _quantities() -> None:
    for written, kind, _ in _WRITTEN:
        read_quantity(written, kind)

"""Symbols of the pieces, on a module of 2.5 mm, each about the point at which its line comes in at the top.

Drawn anew in two families, of which the profile of a place names one: after the shapes in common use on one-lines in
North America (IEEE Std 315), and after IEC 60617. The shapes of both are from memory.
Coordinates are in mm, x to the right and y down, from the middle of the symbol.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

MODULE = 2.5
HALF_WIDTH = 2 * MODULE
HALF_HEIGHT = 2 * MODULE
"""No symbol reaches beyond these on either side, so that lines and text can keep clear of it."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """Strokes as paths, letters in it, what it is called in the legend, and how far up and down its lines reach."""

    paths: tuple[str, ...]
    title: str
    letters: str = ""
    top: float = -HALF_HEIGHT
    bottom: float = HALF_HEIGHT


@dataclass(frozen=True, slots=True)
class Family:
    """The symbols of one standard, by kind of equipment."""

    standard: str
    symbols: Mapping[str, Symbol]

    def of(self, kind: str) -> Symbol:
        """The symbol of a kind of equipment; a plain box for one that has none of its own."""
        return self.symbols.get(kind, PLAIN)


_CIRCLE = "M -4 0 A 4 4 0 1 0 4 0 A 4 4 0 1 0 -4 0 Z"
_BOX = "M -4 -3 H 4 V 3 H -4 Z"
_SQUARE = "M -4 -4 H 4 V 4 H -4 Z"


def _pin(x: float, y: float) -> str:
    """A contact: a small circle."""
    return f"M {x - 0.6} {y} A 0.6 0.6 0 1 0 {x + 0.6} {y} A 0.6 0.6 0 1 0 {x - 0.6} {y} Z"


PLAIN = Symbol((_BOX,), "other piece", top=-3, bottom=3)
_GENERATOR = Symbol((_CIRCLE,), "generator", "G", -4, 4)
_PANELBOARD = Symbol((_BOX, "M -3 0 H 3"), "panelboard", top=-3, bottom=3)
_SWITCHBOARD = Symbol((_SQUARE, "M -3 0 H 3"), "switchboard or switchgear", top=-4, bottom=4)
_INVERTER = Symbol(
    (_SQUARE, "M -4 4 L 4 -4", "M -3 -2 H -1 M -3 -1 H -1", "M 1 2 q 0.5 -1 1 0 t 1 0"), "inverter", top=-4, bottom=4
)
_INLET = Symbol(("M -4 3 A 4 4 0 0 1 4 3", "M -4 3 H 4", "M 0 3 V 5", "M 0 -5 V -1"), "power inlet")
_TRANSFER_SWITCH = "transfer switch, drawn on its normal supply"

_IEEE_315 = Family(
    "IEEE Std 315",
    {
        "utility_supply": Symbol(("M -3 -2 L 0 3 L 3 -2 Z", "M 0 3 V 5"), "utility supply", top=-2),
        "generator": _GENERATOR,
        "meter": Symbol((_CIRCLE,), "meter", "M", -4, 4),
        "disconnect": Symbol(
            ("M 0 -5 V -3.6", "M 0.4 2.5 L 3 -2.5", "M 0 3.6 V 5", _pin(0, 3), _pin(0, -3)), "disconnect"
        ),
        "transfer_switch": Symbol(
            (
                *("M 0 5 V 3.6", "M 0 2.4 L 0.4 -3", "M 0 -3.6 V -5", "M 3.5 -3.6 V -5"),
                *(_pin(0, 3), _pin(0, -3), _pin(3.5, -3)),
            ),
            _TRANSFER_SWITCH,
        ),
        "panelboard": _PANELBOARD,
        "switchboard": _SWITCHBOARD,
        "transformer": Symbol(
            ("M 0 -5 V -2", "M -4 -2" + 4 * " a 1 1 0 0 0 2 0", "M -4 2" + 4 * " a 1 1 0 0 1 2 0", "M 0 2 V 5"),
            "transformer",
        ),
        "inverter": _INVERTER,
        "inlet": _INLET,
    },
)

_IEC_60617 = Family(
    "IEC 60617",
    {
        "utility_supply": Symbol(("M 0 -4 V 5", "M -1.5 0 L 0 3 L 1.5 0"), "utility supply", top=-4),
        "generator": _GENERATOR,
        "meter": Symbol((_SQUARE, "M -4 -2.5 H 4"), "watt-hour meter", "Wh", -4, 4),
        "disconnect": Symbol(
            ("M 0 -5 V -3", "M -1.5 -3 H 1.5", _pin(0, -2.4), "M 0 5 V 3 L -3 -2"), "switch-disconnector"
        ),
        "transfer_switch": Symbol(
            ("M 0 5 V 3 L -1 -3.4", "M 0 -5 V -3 H -1.4", "M 3.5 -5 V -3 H 2.1"), _TRANSFER_SWITCH
        ),
        "panelboard": _PANELBOARD,
        "switchboard": _SWITCHBOARD,
        "transformer": Symbol(
            (
                "M -2.5 -2 A 2.5 2.5 0 1 0 2.5 -2 A 2.5 2.5 0 1 0 -2.5 -2 Z",
                "M -2.5 2 A 2.5 2.5 0 1 0 2.5 2 A 2.5 2.5 0 1 0 -2.5 2 Z",
            ),
            "transformer",
            top=-4.5,
            bottom=4.5,
        ),
        "inverter": _INVERTER,
        "inlet": _INLET,
    },
)

FAMILIES: Mapping[str, Family] = {"ieee_315": _IEEE_315, "iec_60617": _IEC_60617}
"""By the word of a profile; every word of the grammar is here."""

"""Symbols of the pieces, on a module of 2.5 mm, each about the point at which its line comes in at the top.

Drawn anew after the shapes in common use on one-lines in North America (IEEE Std 315); those shapes are from memory.
Coordinates are in mm, x to the right and y down, from the middle of the symbol.
"""

from __future__ import annotations

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


_CIRCLE = "M -4 0 A 4 4 0 1 0 4 0 A 4 4 0 1 0 -4 0 Z"
_BOX = "M -4 -3 H 4 V 3 H -4 Z"
_SQUARE = "M -4 -4 H 4 V 4 H -4 Z"


def _pin(x: float, y: float) -> str:
    """A contact: a small circle."""
    return f"M {x - 0.6} {y} A 0.6 0.6 0 1 0 {x + 0.6} {y} A 0.6 0.6 0 1 0 {x - 0.6} {y} Z"


_WINDINGS = (
    "M -2.5 -2 A 2.5 2.5 0 1 0 2.5 -2 A 2.5 2.5 0 1 0 -2.5 -2 Z",
    "M -2.5 2 A 2.5 2.5 0 1 0 2.5 2 A 2.5 2.5 0 1 0 -2.5 2 Z",
)
_CONVERTER = (_SQUARE, "M -4 4 L 4 -4", "M -3 -2 H -1 M -3 -1 H -1", "M 1 2 q 0.5 -1 1 0 t 1 0")

SYMBOLS = {
    "utility_supply": Symbol(("M -3 -2 L 0 3 L 3 -2 Z", "M 0 3 V 5"), "utility supply", top=-2),
    "generator": Symbol((_CIRCLE,), "generator", "G", -4, 4),
    "meter": Symbol((_CIRCLE,), "meter", "M", -4, 4),
    "disconnect": Symbol(("M 0 -5 V -3.6", "M 0.4 2.5 L 3 -2.5", "M 0 3.6 V 5", _pin(0, 3), _pin(0, -3)), "disconnect"),
    "transfer_switch": Symbol(
        ("M 0 5 V 3.6", "M 0 2.4 L 0.4 -3", "M 0 -3.6 V -5", "M 3.5 -3.6 V -5", _pin(0, 3), _pin(0, -3), _pin(3.5, -3)),
        "transfer switch, drawn on its normal supply",
    ),
    "panelboard": Symbol((_BOX, "M -3 0 H 3"), "panelboard", top=-3, bottom=3),
    "switchboard": Symbol((_SQUARE, "M -3 0 H 3"), "switchboard or switchgear", top=-4, bottom=4),
    "transformer": Symbol(_WINDINGS, "transformer", top=-4.5, bottom=4.5),
    "inverter": Symbol(_CONVERTER, "inverter", top=-4, bottom=4),
    "inlet": Symbol(("M -4 3 A 4 4 0 0 1 4 3", "M -4 3 H 4", "M 0 3 V 5", "M 0 -5 V -1"), "power inlet"),
}
PLAIN = Symbol((_BOX,), "other piece", top=-3, bottom=3)


def symbol_of(kind: str) -> Symbol:
    """The symbol of a kind of equipment; a plain box for one that has none of its own."""
    return SYMBOLS.get(kind, PLAIN)

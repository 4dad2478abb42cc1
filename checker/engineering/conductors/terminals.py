"""The temperature column that terminals allow, and what a roof adds to the temperature around conductors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.values.wire_sizes import WireSize


@dataclass(frozen=True, slots=True)
class TerminalNumbers:
    """What 110.14(C)(1) sets for terminals that are not marked: the column (°C) up to a rating of the circuit (A) or,
    where that is not known, up to a size, and the column above.
    """

    up_to_rating: Fraction
    up_to_size: WireSize
    column_up_to: Fraction
    column_above: Fraction


def terminal_column(
    markings: Sequence[Fraction | None], circuit: Fraction | None, size: WireSize, numbers: TerminalNumbers
) -> Fraction:
    """The lesser of the terminals on which conductors end, each as marked (°C) or, not marked, by the rating of the
    circuit in A. NFPA 70, 110.14(C)(1).

    It rises with every marking and with the rating. Limits: terminals of equipment up to 1000 V; motors of design B to
    D have a column of their own.
    """
    small = size <= numbers.up_to_size if circuit is None else circuit <= numbers.up_to_rating
    unmarked = numbers.column_up_to if small else numbers.column_above
    return min((unmarked if each is None else each for each in markings), default=unmarked)


@dataclass(frozen=True, slots=True)
class RoofRow:
    """Raceways and cables lower above a roof than ``below`` (ft), or just as low where ``with_it``, take this adder
    (°C).
    """

    below: Fraction
    with_it: bool
    adder: Fraction


def roof_adder(height: Fraction, rows: Sequence[RoofRow], *, insulation_is_exempt: bool) -> Fraction:
    """What direct sun on a roof adds to the temperature around conductors, in °C; height above the roof in ft.

    NFPA 70, 310.15(B)(3)(c) of 2017 and 310.15(B)(2) later: one adder close to the roof; editions of 2008 to 2014 had
    four bands. It falls with the height. An insulation that the edition exempts takes none.
    """
    if insulation_is_exempt:
        return Fraction(0)
    for row in rows:
        if height < row.below or (row.with_it and height == row.below):
            return row.adder
    return Fraction(0)

"""Between which ends X/R lies where a fault is, past runs of which not everything is known."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.engineering.faults.along import Beginning, Between
from checker.engineering.impedance import Impedance, split

Ratios = tuple[Fraction, Fraction | None]
"""X/R at the least and at the most (None: a reactance alone)."""


def ratio_past(begins: Iterable[Beginning], added: Between) -> Ratios | None:
    """X/R of source and runs together, (Xs + X) / (Rs + R): at the most with the most reactance and the least
    resistance of the runs, at the least the other way round.

    It rises with X/R of the source. With the size of the source's impedance it moves from X/R of the runs to X/R of the
    source, whichever is more, so the ends are those of the beginnings with the least and the greatest current, which
    have the same X/R. None where a run has no end.
    """
    if added.most is None:
        return None
    least, most = added.least, added.most
    lows, highs = [], []
    for begin in begins:
        low, high = begin.x_over_r
        lows.append(_ratio(split(begin.ohms, low) + Impedance(most.resistance, least.reactance)))
        highs.append(_ratio(split(begin.ohms, high) + Impedance(least.resistance, most.reactance)))
    if not lows:
        return None
    surely = [each for each in lows if each is not None]
    ends = [each for each in highs if each is not None]
    return min(surely, default=Fraction(0)), max(ends) if len(ends) == len(highs) else None


def _ratio(whole: Impedance) -> Fraction | None:
    return whole.reactance / whole.resistance if whole.resistance else None

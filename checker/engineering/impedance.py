"""Impedances in ohms: what is in series is added, as a vector."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.powers import square_root


@dataclass(frozen=True, slots=True)
class Impedance:
    """Resistance and reactance, both in ohms, or both in ohms per 1000 ft."""

    resistance: Fraction
    reactance: Fraction

    def __add__(self, other: Impedance) -> Impedance:
        return Impedance(self.resistance + other.resistance, self.reactance + other.reactance)

    def times(self, factor: Fraction) -> Impedance:
        """So many times this impedance at the same angle."""
        return Impedance(self.resistance * factor, self.reactance * factor)

    def warmer(self, coefficient: Fraction, degrees: Fraction) -> Impedance:
        """The same conductor so many °C warmer (below zero: colder): R2 = R1 (1 + coefficient x degrees), X as it is.

        Note 2 of NFPA 70, chapter 9, Table 8: from 75 °C, 0.00323 per °C for copper and 0.00330 for aluminum. The
        greatest fault current is that of cold conductors.
        """
        return Impedance(self.resistance * (1 + coefficient * degrees), self.reactance)

    @property
    def magnitude(self) -> Fraction:
        """Z = square root of (R2 + X2), to 30 digits."""
        return square_root(self.resistance**2 + self.reactance**2)


NO_IMPEDANCE = Impedance(Fraction(0), Fraction(0))


def split(magnitude: Fraction, x_over_r: Fraction | None) -> Impedance:
    """An impedance of this magnitude whose reactance is ``x_over_r`` times its resistance; None: a reactance alone."""
    if x_over_r is None:
        return Impedance(Fraction(0), magnitude)
    resistance = magnitude / square_root(1 + x_over_r**2)
    return Impedance(resistance, resistance * x_over_r)

"""The greatest and the least current at the end of runs of which not everything is known.

The least is the published point-to-point method, f and M: it adds magnitudes, which is right only where source and runs
stand at one angle, and otherwise errs to the low side. The greatest adds them as vectors at the angles that give most.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.faults.loops import Fault
from checker.engineering.impedance import NO_IMPEDANCE, Impedance, split

NO_RATIO = (Fraction(0), None)
"""Nothing is known of X/R: anything from a resistance alone to a reactance alone (None)."""


@dataclass(frozen=True, slots=True)
class Between:
    """An impedance in ohms, part by part: at least this, and at most that (None: it has no end)."""

    least: Impedance
    most: Impedance | None

    def __add__(self, other: Between) -> Between:
        most = None if self.most is None or other.most is None else self.most + other.most
        return Between(self.least + other.least, most)

    def times(self, factor: Fraction) -> Between:
        """So many times this."""
        return Between(self.least.times(factor), None if self.most is None else self.most.times(factor))


NOTHING_BETWEEN = Between(NO_IMPEDANCE, NO_IMPEDANCE)


@dataclass(frozen=True, slots=True)
class Conductors:
    """What one run adds for one conductor of each phase and for its neutral, the parallel ones counted, in ohms."""

    phase: Between
    neutral: Between

    def __add__(self, other: Conductors) -> Conductors:
        return Conductors(self.phase + other.phase, self.neutral + other.neutral)

    def round_of(self, fault: Fault) -> Between:
        """Once the phase conductor for three phases, twice for lines, phase conductor and neutral for the third."""
        if fault is Fault.THREE_PHASE:
            return self.phase
        return self.phase + (self.phase if fault is Fault.LINES else self.neutral)


NO_RUN = Conductors(NOTHING_BETWEEN, NOTHING_BETWEEN)


@dataclass(frozen=True, slots=True)
class Beginning:
    """A fault current where runs begin: amperes, voltage of its loop, and the least and the greatest X/R of the source
    (None: a reactance alone).
    """

    amperes: Fraction
    voltage: Fraction
    x_over_r: tuple[Fraction, Fraction | None] = NO_RATIO

    @property
    def ohms(self) -> Fraction:
        """Z = V / I."""
        if self.amperes <= 0 or self.voltage <= 0:
            raise OutsideLimits("A fault current needs amperes and volts above zero.")
        return self.voltage / self.amperes


def most_past(begin: Beginning, added: Impedance) -> Fraction:
    """The greatest current in A past an impedance: I = V / |Zs + Z|, X/R of the source at that end which gives more.

    |Zs + Z|2 = Zs2 + Z2 + 2 Zs (R cos a + X sin a) has no least value between two ends of the angle a, which lies from
    0 to 90 degrees. Falls with resistance and reactance added, rises with amperes and voltage.
    """
    return max(begin.voltage / (split(begin.ohms, ratio) + added).magnitude for ratio in begin.x_over_r)


def least_past(begin: Beginning, added: Impedance) -> Fraction:
    """The least current in A past an impedance: X/R of the source as near to that of the impedance as it can be."""
    low, high = begin.x_over_r
    ratio = added.reactance / added.resistance if added.resistance else None
    if ratio is None or (high is not None and ratio > high):
        ratio = high
    elif ratio < low:
        ratio = low
    return begin.voltage / (split(begin.ohms, ratio) + added).magnitude


def point_to_point_factor(begin: Beginning, added: Impedance) -> Fraction:
    """f = I x Z / V of the published method, where Z is the whole way round: twice, or root three times, L / (C n)."""
    return begin.amperes * added.magnitude / begin.voltage

"""How much more a device opens than the symmetrical current says, where its loop has more reactance than its test."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.powers import exponential

_PI = Fraction("3.14159265358979323846264338327950288")


def multiplying_factor(x_over_r: Fraction | None, tested_x_over_r: Fraction) -> Fraction:
    """The factor by which a symmetrical fault current is raised before it is compared with an interrupting rating:

    F = (1 + e^(-pi / (X/R))) / (1 + e^(-pi / (X/R of the test))), and never below one: first peak over first peak. Both
    ratios above zero; None is a loop of reactance alone. Rises with that of the loop, falls with that of the test. Test
    circuits of molded-case breakers have X/R of 1.7, 3.2 or 4.9 by their rating, power breakers 6.6. From IEEE Std 1015
    and UL 489 (from memory).
    """
    if (x_over_r is not None and x_over_r <= 0) or tested_x_over_r <= 0:
        raise OutsideLimits("The factor needs a ratio of reactance to resistance above zero for loop and test.")
    return max(Fraction(1), _peak(x_over_r) / _peak(tested_x_over_r))


def _peak(x_over_r: Fraction | None) -> Fraction:
    return Fraction(2) if x_over_r is None else 1 + exponential(-_PI / x_over_r)

"""How many conductors of a circuit carry current, for the factor by their number (NFPA 70, 310.15(E))."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits


@dataclass(frozen=True, slots=True)
class CountedCircuit:
    """A circuit in a raceway: phase conductors and whether it has a neutral, its connection (``wye``, ``wye_legs``: two
    legs and the neutral of a wye, ``split`` and so on), the share of its load that is nonlinear (None: not known), and
    how many of each conductor in parallel lie in this raceway.
    """

    phase_conductors: int
    neutral: bool
    connection: str
    nonlinear_share: Fraction | None
    sets_here: int = 1


def current_carrying(circuit: CountedCircuit, nonlinear_from: Fraction) -> int:
    """Current-carrying conductors of a circuit: its phase conductors, and the neutral where it carries current.

    It does where it comes with one phase or with two legs of a wye, and with all three where more than the share
    ``nonlinear_from`` (a major portion: one half) of the load is nonlinear, or where that is not known. Between
    balanced phases, and in a three-wire circuit of a split phase, it carries the difference alone and is not counted.
    Equipment grounding conductors never are. 310.15(B)(5) in 2017, (E) later. Rises with everything.
    """
    if circuit.phase_conductors < 1 or circuit.sets_here < 1:
        raise OutsideLimits("A circuit has one phase conductor at least.")
    share = circuit.nonlinear_share
    with_one_phase = circuit.phase_conductors == 1
    nonlinear = circuit.connection == "wye" and (share is None or share > nonlinear_from)
    counts = circuit.neutral and (with_one_phase or circuit.connection == "wye_legs" or nonlinear)
    return circuit.sets_here * (circuit.phase_conductors + counts)

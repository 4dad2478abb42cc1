"""What motors feed into a fault in its first cycles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class Motors:
    """Full-load currents (A) of motors that are connected without a converter between, and how many times it they feed
    into a fault: published as 4 for groups of induction motors below 50 hp, up to 6 for single ones.
    """

    full_load_currents: Sequence[Fraction]
    multiple: Fraction


def motor_contribution(motors: Motors) -> Worked:
    """What motors add to a three-phase fault in its first cycles, in A: I = multiple x sum of full-load currents.

    Added to the current of the source as a number, which errs to the high side. Rises with each. Limits: induction
    motors; behind a converter they feed nothing back; after about four cycles nothing is left. From IEEE Std 141 and
    fault-current handbooks (from memory).
    """
    if motors.multiple < 0 or any(each < 0 for each in motors.full_load_currents):
        raise OutsideLimits("Currents of motors are zero or more.")
    paper = Paper()
    total = sum(motors.full_load_currents, Fraction(0))
    whole = paper.write("full-load currents of the motors", f"{len(motors.full_load_currents)} together", total, "A")
    how = f"{plain_text(motors.multiple)} x {whole.letter}"
    paper.write("what motors add", how, motors.multiple * total, "A")
    return paper.result()


MOTOR_CONTRIBUTION: Method[Motors] = Method(
    "motor_contribution",
    "What motors feed into a fault",
    "I = multiple x sum of full-load currents",
    "IEEE Std 141 and fault-current handbooks (from memory)",
    "Induction motors on the line, first cycles of a three-phase fault.",
    {"full_load_currents": Direction.RISES, "multiple": Direction.RISES},
    motor_contribution,
)

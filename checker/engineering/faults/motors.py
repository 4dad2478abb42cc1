"""Motors: what they take with the rotor locked, and what they feed into a fault in its first cycles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.faults.loops import Fault, Loop
from checker.engineering.impedance import split
from checker.engineering.roots import ROOT_OF_THREE
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text

_LINE_FACTOR = {Fraction(1): Fraction(1), Fraction(3): ROOT_OF_THREE}


def _locked_rotor_current(point: Mapping[str, Fraction]) -> Fraction:
    factor = _LINE_FACTOR.get(point["phases"])
    if factor is None:
        raise OutsideLimits("The current of a motor is worked out for one or three phases.")
    if point["voltage"] <= 0 or point["power"] < 0 or point["by_letter"] < 0:
        raise OutsideLimits("The current of a motor needs a voltage above zero and a power of zero or more.")
    return 1000 * point["power"] * point["by_letter"] / (factor * point["voltage"])


_POWER = Input("power", "rated power", "motor_power", Direction.RISES)
_BY_LETTER = Input("by_letter", "locked-rotor input by the code letter", "locked_rotor_input", Direction.RISES)

LOCKED_ROTOR_INPUT = Calculation(
    name="locked_rotor_input",
    title="Input of a motor with its rotor locked",
    inputs=(_POWER, _BY_LETTER),
    gives="apparent_power",
    unit="kVA",
    formula="S = P x kVA per hp",
    source="NFPA 70, Table 430.7(B)",
    limits="A code letter is a band: its upper end gives the greatest input.",
    function=lambda point: 1000 * point["power"] * point["by_letter"],
)
"""S = hp x kVA/hp, in volt-amperes; the kVA/hp of the code letter from Table 430.7(B), of its band the end meant."""

LOCKED_ROTOR_CURRENT = Calculation(
    name="locked_rotor_current",
    title="Current of a motor with its rotor locked",
    inputs=(
        _POWER,
        _BY_LETTER,
        Input("voltage", "voltage between phase conductors", "voltage", Direction.FALLS),
        Input("phases", "phases", "count", Direction.NEITHER),
    ),
    gives="load_current",
    unit="A",
    formula="I = 1000 x hp x kVA per hp / (k x V), k = 1 for one phase, square root of 3 for three phases",
    source="NFPA 70, Table 430.7(B), and the definition of power",
    limits="At rated voltage.",
    function=_locked_rotor_current,
)
"""I = 1000 hp x kVA/hp / (k V) in amperes, V between phase conductors, k one or the square root of three."""


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


def motor_loop(motors: Motors, between_lines: Fraction, x_over_r: Fraction | None) -> Loop:
    """The same as the loop of a three-phase fault at the terminals of the motors, for adding as vectors."""
    amperes = motor_contribution(motors).value
    if amperes == 0:
        raise OutsideLimits("No motor feeds the fault.")
    voltage = between_lines / ROOT_OF_THREE
    return Loop(Fault.THREE_PHASE, voltage, split(voltage / amperes, x_over_r))


MOTOR_CONTRIBUTION: Method[Motors] = Method(
    "motor_contribution",
    "What motors feed into a fault",
    "I = multiple x sum of full-load currents",
    "IEEE Std 141 and fault-current handbooks (from memory)",
    "Induction motors on the line, first cycles of a three-phase fault.",
    {"full_load_currents": Direction.RISES, "multiple": Direction.RISES},
    motor_contribution,
)

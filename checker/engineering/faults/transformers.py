"""The loop of a fault on the secondary side of a transformer, from a utility that is stated or without limit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.loops import FAULT_NAMES, Fault, FaultCurrent, Loop, current_of, driving_voltage
from checker.engineering.impedance import NO_IMPEDANCE, Impedance, split
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worked import Method, Paper
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class HalfWinding:
    """What makes half of a center-tapped winding: its resistance and reactance over those of the whole winding, both in
    per unit of the rating at the half voltage. Published: 1.5 and 1.2, which gives 1.33 to 1.67 times the current
    between lines at the terminals.
    """

    resistance: Fraction
    reactance: Fraction


@dataclass(frozen=True, slots=True)
class Transformer:
    """A transformer: rating (VA), impedance (per unit), the share of it that is counted, X/R (None: a reactance alone),
    phases, and secondary voltage between lines and to neutral (V; None: no neutral).

    ``counted_impedance``: a nameplate impedance may be off by 10 %, so 0.9 gives the greatest current and 1.1 the
    least; 1 takes the nameplate as it is. ``zero_sequence`` is the zero-sequence impedance of a three-phase
    transformer over the positive one, ``half_winding`` is for single phase; None: no line-to-neutral fault can be
    worked out.
    """

    rating: Fraction
    impedance: Fraction
    counted_impedance: Fraction
    x_over_r: Fraction | None
    phases: int
    between_lines: Fraction
    to_neutral: Fraction | None
    zero_sequence: Fraction | None = None
    half_winding: HalfWinding | None = None


@dataclass(frozen=True, slots=True)
class Primary:
    """Fault power of the utility at the primary terminals (VA) with its X/R (None: a reactance alone).

    For three phases the root of three x voltage between lines x three-phase current; for single phase voltage x current
    of the fault between the two conductors on which the transformer lies.
    """

    fault_power: Fraction
    x_over_r: Fraction | None


@dataclass(frozen=True, slots=True)
class TransformerCase:
    """A transformer, the utility behind it (None: without limit, an infinite bus), and the kind of fault."""

    transformer: Transformer
    primary: Primary | None
    fault: Fault


def secondary_loop(case: TransformerCase) -> Loop:
    """The loop of a fault at the secondary terminals.

    Three phases: Z = V2 / S x z + V2 / S_utility for each phase; between lines twice that; line to neutral (2 Z + Z0)
    / 3, where Z0 is that of the transformer alone (delta primary). Single phase: Z between lines likewise; line to
    neutral by the half winding. OutsideLimits where the fault cannot be worked out. Limits: three phases with a wye
    secondary; the neutral of a high-leg delta is another case.
    """
    transformer, fault = case.transformer, case.fault
    needed = (transformer.rating, transformer.impedance, transformer.counted_impedance, transformer.between_lines)
    if min(needed) <= 0:
        raise OutsideLimits("A transformer needs a rating, a voltage and an impedance above zero.")
    if transformer.phases not in (1, 3):
        raise OutsideLimits("A transformer has one or three phases.")
    voltage = driving_voltage(fault, transformer.between_lines, transformer.to_neutral)
    impedance = _three_phase(case) if transformer.phases == 3 else _single_phase(case)
    return Loop(fault, voltage, impedance)


def _three_phase(case: TransformerCase) -> Impedance:
    transformer = case.transformer
    own = split(_per_unit(transformer, transformer.between_lines), transformer.x_over_r)
    positive = own + _utility(case.primary, transformer.between_lines)
    if case.fault is Fault.THREE_PHASE:
        return positive
    if case.fault is Fault.LINES:
        return positive.times(Fraction(2))
    if transformer.zero_sequence is None:
        raise OutsideLimits("A line-to-neutral fault needs the zero-sequence impedance of the transformer.")
    return (positive.times(Fraction(2)) + own.times(transformer.zero_sequence)).times(Fraction(1, 3))


def _single_phase(case: TransformerCase) -> Impedance:
    transformer = case.transformer
    if case.fault is Fault.THREE_PHASE:
        raise OutsideLimits("A single-phase transformer has no three-phase fault.")
    if case.fault is Fault.LINES:
        own = split(_per_unit(transformer, transformer.between_lines), transformer.x_over_r)
        return own + _utility(case.primary, transformer.between_lines)
    half = transformer.half_winding
    if half is None or transformer.to_neutral is None:
        raise OutsideLimits("A line-to-neutral fault needs the impedance of half the winding.")
    whole = split(_per_unit(transformer, transformer.to_neutral), transformer.x_over_r)
    own = Impedance(half.resistance * whole.resistance, half.reactance * whole.reactance)
    return own + _utility(case.primary, transformer.to_neutral)


def _per_unit(transformer: Transformer, voltage: Fraction) -> Fraction:
    """The impedance in ohms at this voltage."""
    return voltage**2 / transformer.rating * transformer.impedance * transformer.counted_impedance


def _utility(primary: Primary | None, voltage: Fraction) -> Impedance:
    """The utility seen from the secondary: Z = V2 / fault power."""
    if primary is None:
        return NO_IMPEDANCE
    if primary.fault_power <= 0:
        raise OutsideLimits("The fault power of the utility has to be above zero.")
    return split(voltage**2 / primary.fault_power, primary.x_over_r)


def fault_power(amperes: Fraction, voltage: Fraction, phases: int) -> Fraction:
    """Fault power in VA of a current (A) at a voltage between conductors (V): root of 3 x V x I, single phase V x I."""
    return amperes * voltage * (ROOT_OF_THREE if phases == 3 else 1)


def full_load(transformer: Transformer) -> Fraction:
    """The full-load current in A at the secondary: S / (root of 3 x V), single phase S / V."""
    return transformer.rating / (transformer.between_lines * (ROOT_OF_THREE if transformer.phases == 3 else 1))


def secondary_fault(case: TransformerCase) -> FaultCurrent:
    """The fault current at the secondary terminals in A, symmetrical rms, with its steps.

    Rises with the rating and the fault power of the utility, falls with the impedance and the share of it that is
    counted. Without motors and without the primary run; see ``secondary_loop`` for the formula.
    """
    paper, transformer, loop = Paper(), case.transformer, secondary_loop(case)
    paper.write("full-load current of the transformer", "rating / voltage", full_load(transformer), "A", "nameplate")
    percent = f"{plain_text(transformer.impedance * 100)} % x {plain_text(transformer.counted_impedance)}"
    voltage = transformer.between_lines
    own = paper.write(
        "impedance of the transformer", f"V2 / S x {percent}", _per_unit(transformer, voltage), "ohm", "nameplate"
    )
    parts = own.letter
    if case.primary is None:
        paper.assume("The utility is without limit, which gives the greatest current and not the least.")
    else:
        behind = _utility(case.primary, voltage).magnitude
        parts += f" and {paper.write('impedance of the utility', 'V2 / fault power', behind, 'ohm', 'utility').letter}"
    if transformer.counted_impedance == 1:
        paper.assume("The impedance is that of the nameplate, without a tolerance.")
    half = "at half the voltage and for half the winding, " if _on_half(case) else ""
    return current_of(loop, paper, f"{parts}, {half}by X/R, for a {FAULT_NAMES[case.fault]} fault")


def _on_half(case: TransformerCase) -> bool:
    return case.transformer.phases == 1 and case.fault is Fault.LINE_AND_NEUTRAL


def at_center_tap(between_lines: Fraction, factor: Fraction) -> Fraction:
    """Line-to-neutral current in A at the terminals of a center-tapped transformer: a published factor (1.5, within
    1.33 and 1.67) times the current between lines. Past a run it falls faster, as its voltage is half.
    """
    return between_lines * factor


SECONDARY_FAULT: Method[TransformerCase] = Method(
    "secondary_fault",
    "Fault current behind a transformer",
    "I = V / Z, Z = V2 / S x z + V2 / S_utility as vectors, by kind of fault",
    "symmetrical components; half winding of a center-tapped transformer: IEEE Std 242 and handbooks (from memory)",
    "Bolted fault at the terminals, no motors.",
    {
        "rating": Direction.RISES,
        "impedance": Direction.FALLS,
        "counted_impedance": Direction.FALLS,
        "fault_power": Direction.RISES,
    },
    secondary_fault,
)

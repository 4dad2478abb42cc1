"""What a source drives into a fault at its own terminals: a set by its reactances, a transformer by its impedance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.faults.generators import times_rated
from checker.engineering.faults.loops import Fault
from checker.engineering.faults.transformers import HalfWinding, Transformer, TransformerCase, secondary_fault
from checker.engineering.powers import ROOT_OF_THREE
from checker.facts.derivation import Context, Derived
from checker.facts.faults.numbers import (
    HALF_REACTANCE,
    HALF_RESISTANCE,
    LEAST_IMPEDANCE,
    LEAST_REACTANCE,
    REACTANCE_TOLERANCE,
    SMALL_SET,
    ZERO_SEQUENCE,
    share,
)
from checker.facts.faults.sheet import SetNumbers, set_sheet, transformer_sheet
from checker.facts.faults.starts import Start, kinds_of
from checker.facts.known import Known, Origin
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, one_of

AVAILABLE, LEAST, GREATEST = "available_fault_current", "least_fault_current", "greatest_fault_current"
GIVEN_BY = {"utility_supply": AVAILABLE, "generator": GREATEST}
LEAST_GIVEN_BY = {"utility_supply": f"{AVAILABLE}.least", "generator": LEAST}
TRANSFORMER = ("transformer_rating", "transformer_impedance")
TRANSFORMER_READS = (*TRANSFORMER, "system", AVAILABLE)
OF_PHASES: Possible = one_of(("three_phase", "lines"))
"""What is worked out from a transformer is the current between its phase conductors."""

RATED, SUBTRANSIENT, SUSTAINED = "greatest_current", "subtransient_reactance", "sustained_fault_current"
NEGATIVE, ZERO, SYNCHRONOUS = "negative_sequence_reactance", "zero_sequence_reactance", "synchronous_reactance"
SET_READS = (RATED, SUBTRANSIENT, NEGATIVE, ZERO, "system")
LEAST_SET_READS = (RATED, SYNCHRONOUS, SUSTAINED)

HALF_OF_A_WINDING = Fraction(2)
"""A fault over half of a single-phase winding draws one to two times that over the whole: half the volts, and from all
to a quarter of the reactance twice over, by how closely the halves are coupled. Physics of coupled coils; no source.
"""

_LINES_OF_THREE = ROOT_OF_THREE / 2
"""The least share of the three-phase current that flows between two lines: root 3 x / (x1 + x2), where x2 is no more
than x1.
"""

_THREE = 3
_OWN_FAULT = {1: Fault.LINES, _THREE: Fault.THREE_PHASE}


def _ends(context: Context, subject: Subject, name: str) -> tuple[Fraction | None, Fraction | None]:
    value = context.read(subject, name)
    hull = value.hull
    return (None, None) if hull is None or value.undefined else (hull.low, hull.high)


# --- a set -----------------------------------------------------------------------------------------------------------


def greatest_of_set(context: Context, subject: Subject, name: str) -> Derived:
    """I = rated current / x'' for the fault between all its phase conductors, the reactance off by its tolerance; up to
    3 / (x'' + x2 + x0) of it, or twice it on a single phase, where a fault to the neutral may give more. Of a small set
    whose reactance is not shown the smallest that is believed bounds it.
    """
    off = share(context.numbers, REACTANCE_TOLERANCE)
    (slow, fast), (small, large) = _ends(context, subject, RATED), _ends(context, subject, SUBTRANSIENT)
    if off is None or off >= 1:
        return Derived(between(0, None), unit="kA")
    least = slow * _between_all(large * (1 + off)) if slow is not None and large else Fraction(0)
    believed = None if small else _smallest_believed(context, subject, fast)
    smallest = small * (1 - off) if small else believed
    if fast is None or not smallest:
        return Derived(between(rounded(least), None), unit="kA")
    own = fast * _between_all(smallest)
    sequences = (NEGATIVE, ZERO) if small else ()
    factor = _to_neutral(context, subject, small or smallest, sequences)
    numbers = SetNumbers(off, believed, least, own, factor)
    sheet = set_sheet(context, subject, name, (RATED, SUBTRANSIENT, *sequences), numbers)
    return Derived(between(rounded(least), rounded(own * factor)), unit="kA", worksheet=sheet)


def _smallest_believed(context: Context, subject: Subject, amperes: Fraction | None) -> Fraction | None:
    """The least subtransient reactance of a set of this rated current (A); None where the set may be no small one."""
    least, most_kva = share(context.numbers, LEAST_REACTANCE), share(context.numbers, SMALL_SET)
    (_, volts), (_, phases) = _ends(context, subject, "system.voltage"), _ends(context, subject, "system.phases")
    if amperes is None or volts is None or most_kva is None:
        return None
    lines = Fraction(1) if phases is not None and phases < _THREE else ROOT_OF_THREE
    return least if amperes * volts * lines <= most_kva else None


def _between_all(reactance: Fraction) -> Fraction:
    """Times the rated current between all phase conductors: 1 / x, of one phase as of three."""
    return times_rated(Fault.THREE_PHASE, reactance, reactance, Fraction(0))


def _to_neutral(context: Context, subject: Subject, reactance: Fraction, sequences: Sequence[str]) -> Fraction:
    """How many times the current between all phase conductors a fault to the neutral draws at most, and one at least.

    Without a neutral there is none. The negative-sequence reactance is taken to be no less than the subtransient one
    where it is not given, and the zero-sequence one to be nothing. Where the subtransient one is not given nobody is
    asked for them, so ``sequences`` is empty.
    """
    if context.read(subject, "system.to_neutral").only_absent:
        return Fraction(1)
    _, phases = _ends(context, subject, "system.phases")
    fewest, _ = _ends(context, subject, "system.phases")
    negative, zero = (_ends(context, subject, each)[0] for each in sequences) if sequences else (None, None)
    by_sequence = times_rated(Fault.LINE_AND_NEUTRAL, reactance, negative or reactance, zero or Fraction(0))
    factors = [Fraction(1)]
    if phases is None or phases >= _THREE:
        factors.append(by_sequence / _between_all(reactance))
    if fewest is None or fewest < _THREE:
        factors.append(HALF_OF_A_WINDING)
    return max(factors)


def least_of_set(context: Context, subject: Subject, name: str) -> Derived:
    """What lasts: as many times the rated current as the excitation keeps up, less for a fault between two of three
    lines; with nothing to keep it up at most rated current / synchronous reactance, as the field may collapse.
    """
    off = share(context.numbers, REACTANCE_TOLERANCE)
    if off is None or off >= 1:
        return Derived(between(0, None), unit="kA")
    slow, fast = _ends(context, subject, RATED)
    kept, (small, _) = context.read(subject, SUSTAINED), _ends(context, subject, SYNCHRONOUS)
    low, high = _ends(context, subject, SUSTAINED)
    least = Fraction(0)
    if not kept.absent and low is not None and slow is not None:
        least = slow * low * _LINES_OF_THREE
    most = _most_that_lasts(kept, high, fast, small, off)
    return Derived(between(rounded(least), None if most is None else rounded(most)), unit="kA")


def _most_that_lasts(
    kept: Possible, multiple: Fraction | None, rated: Fraction | None, reactance: Fraction | None, off: Fraction
) -> Fraction | None:
    """Of the fault between all phase conductors, by what the excitation keeps up, or by the reactance without it."""
    if rated is None:
        return None
    by_reactance = rated * _between_all(reactance * (1 - off)) if reactance else None
    by_excitation = None if multiple is None else rated * multiple
    if kept.only_absent:
        return by_reactance
    if not kept.absent:
        return by_excitation
    return None if by_reactance is None or by_excitation is None else max(by_reactance, by_excitation)


# --- a transformer ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LetThrough:
    """The greatest currents at the secondary of a transformer with nothing ahead to hold them back, in A: between all
    phase conductors, and to the neutral (None: no end is known).
    """

    phases: Fraction
    to_neutral: Fraction | None


def of_utility(context: Context, subject: Subject, name: str) -> Derived:
    """At most what the utility's transformer lets through with nothing ahead of it to hold it back: I = S / (V z), and
    over root three for three phases, the impedance at the low end of its tolerance. A figure that may be of a fault to
    the neutral is bounded by that fault.
    """
    if name != AVAILABLE:
        return Derived(context.stated(subject, name))
    counted = share(context.numbers, LEAST_IMPEDANCE) or Fraction(1)
    found = let_through(context, subject)
    if found is None:
        return Derived(between(0, None), unit="kA")
    to_neutral = None
    if is_stated(context, subject, AVAILABLE) and not _is_of_phases(context, subject):
        if found.to_neutral is None:
            return Derived(between(0, None), unit="kA")
        to_neutral = found.to_neutral
    sheet = transformer_sheet(context, subject, name, TRANSFORMER, counted, found.phases, to_neutral)
    most = max(found.phases, to_neutral or Fraction(0))
    return Derived(between(0, rounded(most)), unit="kA", worksheet=sheet)


def _is_of_phases(context: Context, subject: Subject) -> bool:
    """Whether a stated figure is surely not of a fault to the neutral."""
    return OF_PHASES.covers(context.stated(subject, f"{AVAILABLE}.between"))


def is_stated(context: Context, subject: Subject, name: str) -> bool:
    """Whether the drawing gives a figure, be it a range; that it is unknown is none."""
    said = context.site.stated(subject, name)
    return said is not None and said.value != context.catalog.facts[name].anything()


def let_through(context: Context, subject: Subject) -> LetThrough | None:
    """The greatest currents at the secondary; None where something has no end."""
    counted = share(context.numbers, LEAST_IMPEDANCE)
    (_, rating), (impedance, _) = (_ends(context, subject, each) for each in TRANSFORMER)
    (volts, _), (fewest, most) = _ends(context, subject, "system.voltage"), _ends(context, subject, "system.phases")
    if not counted or rating is None or rating <= 0 or not impedance or not volts or fewest is None:
        return None
    own = Transformer(rating, impedance, counted, None, _THREE if fewest >= _THREE else 1, volts, None)
    phases = secondary_fault(TransformerCase(own, None, _OWN_FAULT[own.phases])).value
    possible = {1} if most is not None and most < _THREE else {own.phases, _THREE}
    neutrals = [_to_neutral_of(context, subject, replace(own, phases=each)) for each in sorted(possible)]
    known = [each for each in neutrals if each is not None]
    return LetThrough(phases, max(known) if len(known) == len(neutrals) else None)


def _to_neutral_of(context: Context, subject: Subject, own: Transformer) -> Fraction | None:
    """The greatest current to the neutral: nothing without one; None where it is not known, or where the neutral is
    that of one transformer of a high-leg bank.

    X/R is taken as it gives most: a resistance alone or a reactance alone.
    """
    neutral = context.read(subject, "system.to_neutral")
    if neutral.only_absent:
        return Fraction(0)
    low = None if neutral.hull is None else neutral.hull.low
    if not low or (own.phases == _THREE and "high_leg_delta" in context.read(subject, "system.connection").atoms):
        return None
    halves = HalfWinding(*half_winding(context))
    zero = share(context.numbers, ZERO_SEQUENCE) or Fraction(0)
    wound = replace(own, to_neutral=low, zero_sequence=zero, half_winding=halves)
    cases = (
        TransformerCase(replace(wound, x_over_r=each), None, Fault.LINE_AND_NEUTRAL) for each in (Fraction(0), None)
    )
    return max(
        secondary_fault(case).value * (_neutral_of_wye(wound) if wound.phases == _THREE else 1) for case in cases
    )


def _neutral_of_wye(own: Transformer) -> Fraction:
    """The voltage to the neutral of a wye is that between lines over root three, whatever is rounded on the drawing."""
    assert own.to_neutral is not None
    return max(own.between_lines / ROOT_OF_THREE / own.to_neutral, Fraction(1))


def half_winding(context: Context) -> tuple[Fraction, Fraction]:
    """Resistance and reactance of half a center-tapped winding over those of the whole at half the voltage. Without a
    number in force half of it, which is no impedance beside the other half: physics of coupled coils.
    """
    resistance, reactance = (share(context.numbers, each) for each in (HALF_RESISTANCE, HALF_REACTANCE))
    return resistance or Fraction(1), reactance or Fraction(1)


def center_tap_factor(context: Context) -> Fraction:
    """How many times the current between lines a fault to the neutral draws at a center tap, at the most: 2 over the
    smaller of the two shares. From 240 V over Z to 120 V over share x Z / 4.
    """
    return HALF_OF_A_WINDING / min(half_winding(context))


def transformer_start(context: Context, transformer: Subject) -> Start | None:
    """The secondary terminals of a transformer on the premises, for faults between its phase conductors."""
    found = let_through(context, transformer)
    if found is None:
        return None
    known = Known(between(0, rounded(found.phases)), Origin.DERIVED, frozenset(), unit="kA")
    return Start(transformer.id, AVAILABLE, known, kinds_of(context, transformer, OF_PHASES))

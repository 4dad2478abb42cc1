"""What a source drives into a fault at its own terminals: a set by its reactances, a transformer by its impedance."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.powers import ROOT_OF_THREE
from checker.facts.derivation import Context, Derived
from checker.facts.faults.numbers import LEAST_IMPEDANCE, REACTANCE_TOLERANCE, share
from checker.facts.faults.sheet import set_sheet, transformer_sheet
from checker.facts.faults.starts import Start, kinds_of
from checker.facts.known import Known, Origin
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, one_of

AVAILABLE, LEAST, GREATEST = "available_fault_current", "least_fault_current", "greatest_fault_current"
GIVEN_BY = {"utility_supply": AVAILABLE, "generator": GREATEST}
TRANSFORMER = ("transformer_rating", "transformer_impedance")
TRANSFORMER_READS = (*TRANSFORMER, "system", AVAILABLE)

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


def _ends(context: Context, subject: Subject, name: str) -> tuple[Fraction | None, Fraction | None]:
    value = context.read(subject, name)
    hull = value.hull
    return (None, None) if hull is None or value.undefined else (hull.low, hull.high)


# --- a set -----------------------------------------------------------------------------------------------------------


def greatest_of_set(context: Context, subject: Subject, name: str) -> Derived:
    """I = rated current / x'' for the fault between all its phase conductors, the reactance off by its tolerance; up to
    3 / (x'' + x2 + x0) of it, or twice it on a single phase, where a fault to the neutral may give more.
    """
    off = share(context.numbers, REACTANCE_TOLERANCE)
    (slow, fast), (small, large) = _ends(context, subject, RATED), _ends(context, subject, SUBTRANSIENT)
    if off is None or off >= 1:
        return Derived(between(0, None), unit="kA")
    least = slow / (large * (1 + off)) if slow is not None and large else Fraction(0)
    if fast is None or not small:
        return Derived(between(rounded(least), None), unit="kA")
    own = fast / (small * (1 - off))
    factor = _to_neutral(context, subject, small)
    sheet = set_sheet(context, subject, name, (RATED, SUBTRANSIENT, NEGATIVE, ZERO), off, least, own, factor)
    return Derived(between(rounded(least), rounded(own * factor)), unit="kA", worksheet=sheet)


def _to_neutral(context: Context, subject: Subject, reactance: Fraction) -> Fraction:
    """How many times the current between all phase conductors a fault to the neutral draws at most, and one at least.

    Without a neutral there is none. The negative-sequence reactance is taken to be no less than the subtransient one
    where it is not given, and the zero-sequence one to be nothing.
    """
    if context.read(subject, "system.to_neutral").only_absent:
        return Fraction(1)
    _, phases = _ends(context, subject, "system.phases")
    fewest, _ = _ends(context, subject, "system.phases")
    negative, zero = _ends(context, subject, NEGATIVE)[0], _ends(context, subject, ZERO)[0]
    by_sequence = _THREE * reactance / (reactance + (negative or reactance) + (zero or Fraction(0)))
    factors = [Fraction(1)]
    if phases is None or phases >= _THREE:
        factors.append(by_sequence)
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
    by_reactance = rated / (reactance * (1 - off)) if reactance else None
    by_excitation = None if multiple is None else rated * multiple
    if kept.only_absent:
        return by_reactance
    if not kept.absent:
        return by_excitation
    return None if by_reactance is None or by_excitation is None else max(by_reactance, by_excitation)


# --- a transformer ---------------------------------------------------------------------------------------------------


def of_utility(context: Context, subject: Subject, name: str) -> Derived:
    """At most what the utility's transformer lets through with nothing ahead of it to hold it back: I = S / (V z), and
    over root three for three phases, the impedance at the low end of its tolerance. A figure of a fault to the neutral
    is not bounded so.
    """
    if name != AVAILABLE:
        return Derived(context.stated(subject, name))
    said = context.stated(subject, f"{AVAILABLE}.between")
    if is_stated(context, subject, AVAILABLE) and (not said.atoms or "line_and_neutral" in said.atoms):
        return Derived(between(0, None), unit="kA")
    most = _without_limit(context, subject)
    if most is None:
        return Derived(between(0, None), unit="kA")
    counted = share(context.numbers, LEAST_IMPEDANCE) or Fraction(1)
    sheet = transformer_sheet(context, subject, name, TRANSFORMER, counted, most)
    return Derived(between(0, rounded(most)), unit="kA", worksheet=sheet)


def is_stated(context: Context, subject: Subject, name: str) -> bool:
    """Whether the drawing gives a figure, be it a range; that it is unknown is none."""
    said = context.site.stated(subject, name)
    return said is not None and said.value != context.catalog.facts[name].anything()


def _without_limit(context: Context, subject: Subject) -> Fraction | None:
    """The greatest current at the secondary in A; None where something has no end."""
    counted = share(context.numbers, LEAST_IMPEDANCE)
    (_, rating), (impedance, _) = (_ends(context, subject, each) for each in TRANSFORMER)
    (volts, _), (fewest, _) = _ends(context, subject, "system.voltage"), _ends(context, subject, "system.phases")
    if not counted or rating is None or not impedance or not volts or fewest is None:
        return None
    ways = ROOT_OF_THREE if fewest >= _THREE else 1
    return rating / (volts * impedance * counted * ways)


def transformer_start(context: Context, transformer: Subject) -> Start | None:
    """The secondary terminals of a transformer on the premises."""
    most = _without_limit(context, transformer)
    if most is None:
        return None
    known = Known(between(0, rounded(most)), Origin.DERIVED, frozenset(), unit="kA")
    own: Possible = one_of(("three_phase", "lines"))
    return Start(transformer.id, AVAILABLE, known, kinds_of(context, transformer, own))

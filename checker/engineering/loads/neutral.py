"""Load of the neutral of a feeder or service (NFPA 70, 220.61; 120.61 in the 2026 edition)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.worked import Paper, Step, Worked


@dataclass(frozen=True, slots=True)
class NeutralNumbers:
    """What the code sets: the share with which ranges and dryers count, the current up to which all counts, and the
    share of the rest; and where each stands: that all counts, and the share of ranges and dryers.
    """

    cooking_and_drying: Fraction
    whole_up_to: Fraction
    share_above: Fraction
    source: str
    source_of_share: str = ""


@dataclass(frozen=True, slots=True)
class NeutralLoad:
    """The greatest unbalanced current (A), and the part of it that may not be reduced.

    ``not_reduced`` holds nonlinear loads of a four-wire wye system, and everything where a feeder takes two phases and
    the neutral of such a system: a third of its current flows in the neutral whatever the loads are.
    """

    unbalance: Fraction
    not_reduced: Fraction
    numbers: NeutralNumbers


def neutral_load(given: NeutralLoad) -> Worked:
    """Current for which the neutral is sized: I = min(L, 200) + 0.7 max(0, L - 200) + N, with L = unbalance - N.

    All in amperes; 200 A and 70 % are the numbers of the code. Rises with both inputs. Limits: the unbalanced load is
    that between the neutral and any one phase conductor, ranges and dryers already at their share. From 220.61(B)(2).
    """
    paper = Paper()
    whole = paper.write("unbalanced load", "given", given.unbalance, "A")
    write_reduced(paper, whole, given.not_reduced, given.numbers)
    return paper.result()


def write_reduced(paper: Paper, whole: Step, not_reduced: Fraction, numbers: NeutralNumbers) -> Step:
    """What is left of an unbalanced load (A) by the share of what is over the current of the code."""
    fixed = paper.write("part that may not be reduced", "given", not_reduced, "A", numbers.source)
    rest = whole.value - not_reduced
    first = min(rest, numbers.whole_up_to)
    over = max(Fraction(0), rest - numbers.whole_up_to)
    reduced = paper.write(
        "rest of it",
        f"({whole.letter} - {fixed.letter}), {float(numbers.share_above * 100):g} % of what is over "
        f"{float(numbers.whole_up_to):g} A",
        first + over * numbers.share_above,
        "A",
        numbers.source,
    )
    return paper.write("load of the neutral", f"{reduced.letter} + {fixed.letter}", reduced.value + fixed.value, "A")

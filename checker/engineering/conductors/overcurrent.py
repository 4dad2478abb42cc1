"""The overcurrent device that conductors allow, and standard ratings (NFPA 70, 240.4 and 240.6)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text
from checker.values.wire_sizes import WireSize


@dataclass(frozen=True, slots=True)
class StandardRatings:
    """Standard ratings of overcurrent devices in A, rising (240.6(A))."""

    ratings: Sequence[Fraction]
    source: str

    def at_or_above(self, current: Fraction) -> Fraction:
        """The smallest standard rating that is not below; OutsideLimits past the last."""
        for rating in self.ratings:
            if rating >= current:
                return rating
        raise OutsideLimits(f"{self.source} has no standard rating for {plain_text(current)} A.")

    def at_or_below(self, current: Fraction) -> Fraction:
        """The largest standard rating that is not above; OutsideLimits before the first."""
        below = [rating for rating in self.ratings if rating <= current]
        if not below:
            raise OutsideLimits(f"{self.source} has no standard rating as small as {plain_text(current)} A.")
        return below[-1]


@dataclass(frozen=True, slots=True)
class OvercurrentNumbers:
    """What an edition sets: the standard ratings, the rating up to which the next one above the ampacity is allowed
    (240.4(B)), and the limits of small conductors by size and metal (240.4(D)).
    """

    standard: StandardRatings
    next_above_up_to: Fraction
    small: Mapping[tuple[WireSize, str], Fraction]


@dataclass(frozen=True, slots=True)
class Protected:
    """Conductors with their ampacity in A; ``feeds_several_receptacles``: a branch circuit with several receptacles
    for loads on cord and plug, which is not allowed the next rating above.
    """

    ampacity: Fraction
    size: WireSize
    material: str
    feeds_several_receptacles: bool
    numbers: OvercurrentNumbers


def largest_device(case: Protected) -> Worked:
    """The largest standard overcurrent device for conductors, in A; it rises with their ampacity.

    NFPA 70, 240.4(B) to (D): the standard rating at the ampacity; between two ratings the next above, up to 800 A and
    not for a branch circuit with several receptacles; otherwise the next below. Small conductors have a limit of their
    own. Limits: not for taps, motors, transformers and the leads of a generator.
    """
    paper, standard = Paper(), case.numbers.standard
    carried = paper.write("ampacity", "given", case.ampacity, "A")
    above = standard.at_or_above(case.ampacity)
    allowed = above <= case.numbers.next_above_up_to and not case.feeds_several_receptacles
    if allowed:
        paper.write("overcurrent device", f"the standard rating not below {carried.letter}", above, "A", "240.4(B)")
    else:
        below = standard.at_or_below(case.ampacity)
        how = f"the standard rating not above {carried.letter}"
        paper.write("overcurrent device", how, below, "A", "240.4(B) and (C)")
    limit = case.numbers.small.get((case.size, case.material))
    if limit is not None:
        device = paper.steps[-1]
        how = f"not above the limit of {case.size.name} {case.material}, {plain_text(limit)} A"
        paper.write("overcurrent device of a small conductor", how, min(limit, device.value), "A", "240.4(D)")
    return paper.result()


LARGEST_DEVICE: Method[Protected] = Method(
    "largest_device",
    "Largest overcurrent device for conductors",
    "standard rating at the ampacity, or the next above up to 800 A",
    "NFPA 70, 240.4(B) to (D)",
    "Not for taps, motors, transformers and generator leads.",
    {"ampacity": Direction.RISES},
    largest_device,
)

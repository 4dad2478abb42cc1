"""Whether an overcurrent device trips at all on the fault current of a source, and how."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction


class Trip(Enum):
    """What the device does."""

    AT_ONCE = "at_once"
    IN_TIME = "in_time"
    NOT_SURELY = "not_surely"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Tripping:
    """An overcurrent device: rating (A), where its instantaneous part picks up (A; None: it has none) with its
    tolerance, and the multiple of its rating at which it trips for sure in time (1.35 for molded-case breakers tested
    to UL 489, from memory).
    """

    rating: Fraction
    instantaneous: Fraction | None
    tolerance: Fraction
    surely_in_time_at: Fraction


@dataclass(frozen=True, slots=True)
class Tripped:
    """The answer with the two currents between which it changes: below ``never_to`` nothing, from ``surely_from`` on
    for sure.
    """

    trip: Trip
    never_to: Fraction
    surely_from: Fraction


def tripping(first_cycles: Fraction, lasting: Fraction, device: Tripping) -> Tripped:
    """What a device does on one fault, whose current (A) is ``first_cycles`` and falls to ``lasting``. Ask of the
    least.

    At once where the first cycles reach the instantaneous part with its tolerance; in time where what lasts is a sure
    multiple of the rating; never where what lasts is not above the rating and the instantaneous part is not reached.
    More current never makes it trip less. How long it takes is for its curve.
    """
    surely = device.rating * device.surely_in_time_at
    if device.instantaneous is not None and first_cycles >= device.instantaneous * (1 + device.tolerance):
        return Tripped(Trip.AT_ONCE, device.rating, surely)
    if lasting >= surely:
        return Tripped(Trip.IN_TIME, device.rating, surely)
    may_at_once = device.instantaneous is not None and first_cycles >= device.instantaneous * (1 - device.tolerance)
    never = lasting <= device.rating and not may_at_once
    return Tripped(Trip.NEVER if never else Trip.NOT_SURELY, device.rating, surely)

"""From which fault current on the device of a line is sure to open."""

from __future__ import annotations

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived
from checker.facts.numbers import number_in_force
from checker.site.model import Subject
from checker.values.arithmetic import product_of
from checker.values.possible import ABSENT, number, undefined

SURELY = "multiple-of-its-rating-at-which-a-device-surely-opens"
NUMBERS = (SURELY,)
READS = ("overcurrent",)


def opens_in_time_from(context: Context, subject: Subject, name: str) -> Derived:
    """Rating of the nearest device ahead x the multiple at which it surely opens in time; rises with the rating."""
    rating = context.read(subject, "overcurrent.rated_current")
    try:
        multiple = number(number_in_force(context.numbers, SURELY))
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    there = rating.present()
    if rating.only_absent or there is None:
        return Derived(ABSENT)
    value = product_of(there, multiple)
    return Derived(value.union(ABSENT) if rating.absent else value, unit="A")

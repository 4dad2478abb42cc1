"""From which fault current on the device of a line is sure to open."""

from __future__ import annotations

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.faults.numbers import share
from checker.facts.line.roles import flag
from checker.facts.numbers import number_in_force
from checker.site.model import Subject
from checker.values.arithmetic import product_of
from checker.values.possible import ABSENT, number, several, undefined
from checker.values.relations import relate
from checker.values.truth import Truth, any_of

SURELY = "multiple-of-its-rating-at-which-a-device-surely-opens"
WITHOUT_DELAY = "time-within-which-a-device-opens-without-delay"
NUMBERS = (SURELY, WITHOUT_DELAY)
READS = ("overcurrent",)


def opens_in_time_from(context: Context, subject: Subject, name: str) -> Derived:
    """Rating of the nearest device ahead x the multiple at which it surely opens in time; rises with the rating."""
    rating = context.read(subject, "overcurrent.rated_current")
    try:
        multiple = number(number_in_force(context.numbers, SURELY))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    there = rating.present()
    if rating.only_absent or there is None:
        return Derived(ABSENT)
    value = product_of(there, multiple)
    return Derived(value.union(ABSENT) if rating.absent else value, unit="A")


# --- ahead of a transfer switch --------------------------------------------------------------------------------------

AT_ONCE_READS = ("overcurrent", "normal_fault_current")
_FUSES = several(f"fuse_class_{each}" for each in ("j", "t", "rk1", "rk5", "l", "cc"))


def opens_at_once(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the device that protects a switch on its normal side opens without delay at the fault current there.

    Its clearing time at that fault says so where it is known. Otherwise a fuse does, and a breaker from its
    instantaneous setting on or, where that is switched off, from the override that its maker has fixed: "instantaneous
    off" is not "no instantaneous".
    """
    side = Subject("side", f"{subject.id}.normal")
    device = context.read(side, "overcurrent.device")
    whole = context.read(side, "overcurrent")
    if whole.undefined:
        return Derived(undefined(whole.undefined[0]), reasons=whole.undefined)
    if whole.only_absent:
        return Derived(ABSENT)
    answer = _by_time(context, side)
    if answer is Truth.UNKNOWN:
        answer = any_of((relate("one_of", device, _FUSES), _reaches(context, subject, side)))
    value = flag(answer)
    return Derived(value.union(ABSENT) if whole.absent else value)


def _by_time(context: Context, side: Subject) -> Truth:
    """By the clearing time at this fault, which somebody has found from the curve."""
    limit = share(context.numbers, WITHOUT_DELAY)
    time = context.read(side, "overcurrent.clearing_time").present()
    return Truth.UNKNOWN if limit is None or time is None else relate("at_most", time, number(limit))


def _reaches(context: Context, subject: Subject, side: Subject) -> Truth:
    """Whether the fault reaches the setting or the override; none of a kind is never reached."""
    current = context.read(subject, "normal_fault_current")
    parts = (context.read(side, f"overcurrent.instantaneous_{part}") for part in ("setting", "override"))
    return any_of(relate("at_most", each, current) for each in parts)

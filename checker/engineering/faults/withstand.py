"""A transfer switch against a fault current, by the row of its table that answers for the device ahead of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.faults.loops import FaultCurrent
from checker.engineering.faults.ratings import Compared, compared
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class Protection:
    """The device ahead of a transfer switch: its kind (as in the table of the switch), rating (A), the current from
    which it opens at once (A; None: it never does), whether that is known, and how long it takes then and below (s;
    None: not known).

    It opens at once from its instantaneous setting, and where that is switched off from its fixed override, which
    molded-case and insulated-case breakers keep; a fuse from where it limits the current.
    """

    kind: str | None
    rating: Fraction | None
    at_once_from: Fraction | None
    at_once_is_known: bool
    time_at_once: Fraction | None
    time_with_delay: Fraction | None

    def clearing_times(self, current: Fraction) -> tuple[Fraction | None, ...]:
        """How long the device may take at this current, in s: one time, or two where it is not known whether it opens
        at once; None where a time is not known.
        """
        at_once = self.opens_at_once(current)
        if at_once is Truth.UNKNOWN:
            return (self.time_at_once, self.time_with_delay)
        return (self.time_at_once,) if at_once is Truth.YES else (self.time_with_delay,)

    def opens_at_once(self, current: Fraction) -> Truth:
        """Whether the device opens without delay at this current."""
        if not self.at_once_is_known:
            return Truth.UNKNOWN
        return Truth.YES if self.at_once_from is not None and current >= self.at_once_from else Truth.NO


@dataclass(frozen=True, slots=True)
class WithstandRow:
    """One row of the maker's table: kind of device ahead (None: any device that clears in time), its largest rating (A;
    None: any), the rating of the switch behind it (A), and the time for which it holds (s).

    ``time`` None: the row was tested with the device, which opened at once; it does not answer for one that waits.
    """

    device: str | None
    largest: Fraction | None
    withstands: Fraction
    time: Fraction | None


def switch_withstands(rows: Sequence[WithstandRow], protection: Protection, current: FaultCurrent) -> Compared:
    """A transfer switch against a fault current, by the row that answers for the device ahead of it.

    A row answers for its kind of device up to its largest rating, and for its time where it has one: the device has to
    clear within it at this current. Yes where some row answers for sure and its rating is not below the current; no
    where none can; otherwise unknown. NFPA 70, 110.3(B), 110.9 and 110.10; ratings by device and by time: UL 1008.
    """
    if not rows:
        return compared(Truth.UNKNOWN, current, None, "the table of withstand and closing ratings is not shown")
    answers = [(row, _answers(row, protection, current.value)) for row in rows]
    sure = [row for row, answer in answers if answer is Truth.YES]
    perhaps = [row for row, answer in answers if answer is Truth.UNKNOWN]
    best = _best(sure)
    if best is not None and best >= current.value:
        return compared(Truth.YES, current, best, "a row for this device holds")
    if any(row.withstands >= current.value for row in perhaps):
        return compared(Truth.UNKNOWN, current, _best(perhaps), "not all of the device ahead is known")
    if best is not None:
        return compared(Truth.NO, current, best, "the current is above every row for this device")
    return compared(Truth.NO, current, _best(perhaps), "no row that holds answers for the device ahead")


def _best(rows: Sequence[WithstandRow]) -> Fraction | None:
    return max((row.withstands for row in rows), default=None)


def _answers(row: WithstandRow, protection: Protection, current: Fraction) -> Truth:
    """Whether a row is for the device: its kind, its rating and its time, each yes, no or unknown."""
    asked = (
        _matches(row.device, protection.kind),
        _not_above(protection.rating, row.largest),
        protection.opens_at_once(current)
        if row.time is None
        else _all_within(protection.clearing_times(current), row.time),
    )
    if Truth.NO in asked:
        return Truth.NO
    return Truth.UNKNOWN if Truth.UNKNOWN in asked else Truth.YES


def _matches(wanted: str | None, kind: str | None) -> Truth:
    if wanted is None:
        return Truth.YES
    if kind is None:
        return Truth.UNKNOWN
    return Truth.YES if kind == wanted else Truth.NO


def _not_above(value: Fraction | None, limit: Fraction | None) -> Truth:
    if limit is None:
        return Truth.YES
    if value is None:
        return Truth.UNKNOWN
    return Truth.YES if value <= limit else Truth.NO


def _all_within(times: tuple[Fraction | None, ...], limit: Fraction) -> Truth:
    """Whether the device clears within the time, whichever of its times it takes."""
    answers = {_not_above(each, limit) for each in times}
    return answers.pop() if len(answers) == 1 else Truth.UNKNOWN

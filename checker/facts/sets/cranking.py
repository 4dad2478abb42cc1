"""The starting battery of a set: how long it cranks, what that takes, and the charger that puts it back."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import Calculation, OutsideLimits
from checker.engineering.timing.cranking import CHARGER_CURRENT, CRANKING_CHARGE, CRANKING_CYCLE
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import calculated, source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.numbers import cited, number_in_force
from checker.site.model import Subject
from checker.values.arithmetic import where_absent
from checker.values.possible import Possible, number

RECHARGE, LOST = "longest-time-to-recharge-the-start-battery", "charge-put-in-over-charge-that-stays"
NUMBERS = (RECHARGE, LOST)
"""The parameters that are read here."""

READS = ("start_battery", "battery_charger")

_BATTERY, _STANDING = "start_battery", "battery_charger.standing_load"
_CRANKING = ("start_battery.cranks", "start_battery.crank", "start_battery.rest")
_CAPACITY = "start_battery.capacity"
_NOTHING = Fraction(0)
_NO_BATTERY = "the set does not start from a battery"


def cranking_cycle(context: Context, subject: Subject, name: str) -> Derived:
    """t = n x crank + (n - 1) x rest; where it cranks once there is no rest."""
    if context.read(subject, _BATTERY).only_absent:
        return no_answer(_NO_BATTERY)
    cranks, crank, rest = (context.read(subject, each) for each in _CRANKING)
    value = CRANKING_CYCLE.over({"cranks": cranks, "crank": crank, "rest": where_absent(rest, _NOTHING)})
    lines = [*_given(context, subject, _CRANKING), _result(CRANKING_CYCLE, CRANKING_CYCLE.formula, value)]
    return _derived(subject, name, CRANKING_CYCLE, lines, value)


def cranking_charge(context: Context, subject: Subject, name: str) -> Derived:
    """Q = I t n m / 3600 over all the cycles that the battery gives."""
    if context.read(subject, _BATTERY).only_absent:
        return no_answer(_NO_BATTERY)
    terms = {each.name: (subject, f"{_BATTERY}.{each.name}") for each in CRANKING_CHARGE.inputs}
    return calculated(context, CRANKING_CHARGE, subject, name, terms)


def charger_output_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """I = Q K / T + L, with the time that the standard in force allows."""
    if context.read(subject, _BATTERY).only_absent:
        return no_answer(_NO_BATTERY)
    try:
        recharge, lost = (number_in_force(context.numbers, each) for each in NUMBERS)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    value = CHARGER_CURRENT.over(
        {
            "capacity": context.read(subject, _CAPACITY),
            "loss_factor": number(lost),
            "recharge": number(recharge),
            "standing_load": where_absent(context.read(subject, _STANDING), _NOTHING),
        }
    )
    allowed = number_text(number(recharge), "duration", "h")
    lines = [
        *_given(context, subject, (_CAPACITY, _STANDING)),
        Line("3", "charge put in over charge that stays", "", f"{float(lost):g}", "", "common practice"),
        Line("4", "time to recharge", "", allowed, "", cited(context.numbers, RECHARGE)),
        _result(CHARGER_CURRENT, "1 x 3 / 4 + 2", value),
    ]
    return _derived(subject, name, CHARGER_CURRENT, lines, value)


def _given(context: Context, subject: Subject, names: tuple[str, ...]) -> Iterator[Line]:
    for place, name in enumerate(names, start=1):
        fact, known = context.catalog.facts[name], context.known(subject, name)
        yield Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))


def _result(calculation: Calculation, how: str, value: Possible) -> Line:
    found = number_text(value, calculation.gives, calculation.unit)
    return Line("a", calculation.title, how, found, "", calculation.source)


def _derived(subject: Subject, name: str, calculation: Calculation, lines: list[Line], value: Possible) -> Derived:
    sheet = Worksheet(f"{subject.id}.{name}", calculation.title, subject.id, tuple(lines), calculation.limits)
    return Derived(value, unit=calculation.unit, worksheet=sheet, reasons=value.undefined)

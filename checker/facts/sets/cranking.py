"""The starting battery of a set: how long it cranks, what that takes, and the charger that puts it back."""

from __future__ import annotations

from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.timing.cranking import CHARGER_CURRENT, CRANKING_CHARGE, CRANKING_CYCLE
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import calculated, source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.numbers import cited, number_in_force
from checker.site.model import Subject
from checker.values.arithmetic import where_absent
from checker.values.possible import number

RECHARGE, LOST = "longest-time-to-recharge-the-start-battery", "charge-put-in-over-charge-that-stays"
NUMBERS = (RECHARGE, LOST)
"""The parameters that are read here."""

CYCLE_READS = ("start_battery",)
CHARGE_READS = ("start_battery",)
CHARGER_READS = ("start_battery", "battery_charger")

_NO_BATTERY = "the set does not start from a battery"


def cranking_cycle(context: Context, subject: Subject, name: str) -> Derived:
    """t = n x crank + (n - 1) x rest; where it cranks once there is no rest."""
    if context.read(subject, "start_battery").only_absent:
        return no_answer(_NO_BATTERY)
    given = {each: context.known(subject, f"start_battery.{each}").value for each in ("cranks", "crank", "rest")}
    given["rest"] = where_absent(given["rest"], Fraction(0))
    value = CRANKING_CYCLE.over(given)
    facts = context.catalog.facts
    lines = [
        Line(
            str(place),
            facts[f"start_battery.{each}"].title,
            "",
            value_text(facts[f"start_battery.{each}"], known.value, known.unit),
            "",
            source_text(known),
        )
        for place, each in enumerate(given, start=1)
        for known in (context.known(subject, f"start_battery.{each}"),)
    ]
    found = number_text(value, CRANKING_CYCLE.gives, CRANKING_CYCLE.unit)
    lines.append(Line("a", CRANKING_CYCLE.title, CRANKING_CYCLE.formula, found, "", CRANKING_CYCLE.source))
    sheet = Worksheet(f"{subject.id}.{name}", CRANKING_CYCLE.title, subject.id, tuple(lines), CRANKING_CYCLE.limits)
    return Derived(value, unit=CRANKING_CYCLE.unit, worksheet=sheet, reasons=value.undefined)


def cranking_charge(context: Context, subject: Subject, name: str) -> Derived:
    """Q = I t n m / 3600 over all the cycles that the battery gives."""
    if context.read(subject, "start_battery").only_absent:
        return no_answer(_NO_BATTERY)
    terms = {each: (subject, f"start_battery.{each}") for each in ("current", "crank", "cranks", "cycles")}
    return calculated(context, CRANKING_CHARGE, subject, name, terms)


def charger_output_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """I = Q K / T + L, with the time that the standard in force allows."""
    if context.read(subject, "start_battery").only_absent:
        return no_answer(_NO_BATTERY)
    try:
        recharge, lost = (number_in_force(context.numbers, each) for each in NUMBERS)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    capacity = context.known(subject, "start_battery.capacity")
    standing = context.known(subject, "battery_charger.standing_load")
    given = {
        "capacity": capacity.value,
        "loss_factor": number(lost),
        "recharge": number(recharge),
        "standing_load": where_absent(standing.value, Fraction(0)),
    }
    value = CHARGER_CURRENT.over(given)
    facts = context.catalog.facts
    rows = (("start_battery.capacity", capacity), ("battery_charger.standing_load", standing))
    lines = [
        *(
            Line(
                str(place),
                facts[fact].title,
                "",
                value_text(facts[fact], known.value, known.unit),
                "",
                source_text(known),
            )
            for place, (fact, known) in enumerate(rows, start=1)
        ),
        Line("3", "factor for what is lost in charging", "", f"{float(lost):g}", "", "common practice"),
        Line("4", "time to recharge", "", f"{float(recharge / 3600):g} h", "", cited(context.numbers, RECHARGE)),
        Line(
            "a",
            CHARGER_CURRENT.title,
            "1 x 3 / 4 + 2",
            number_text(value, CHARGER_CURRENT.gives, "A"),
            "",
            CHARGER_CURRENT.source,
        ),
    ]
    sheet = Worksheet(f"{subject.id}.{name}", CHARGER_CURRENT.title, subject.id, tuple(lines), CHARGER_CURRENT.limits)
    return Derived(value, unit="A", worksheet=sheet, reasons=value.undefined)

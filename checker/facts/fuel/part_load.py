"""What a set on liquid fuel burns at the load that is put on it, by the points of its data sheet."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.part_load import FUEL_AT_LOAD, Curve, PartLoad, Point
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worked import Worked
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.fuel.ends import NOTHING, Ends, ends_of
from checker.facts.loads.managers import READS as OF_MANAGERS
from checker.facts.loads.managers import managers_of
from checker.facts.two_ends import TwoEnds, step_lines
from checker.site.model import Subject
from checker.values.possible import Possible

READS = (
    *("fuel", "rated_power", "full_load_fuel", "part_load_fuel", "automatic_load", "managed_load", "system"),
    *OF_MANAGERS,
)

_UNIT, _SHEET = "gal/h", "generator data sheet"
_LIQUID = frozenset({"diesel", "gasoline"})
_FULL = Fraction(1)
_POINTS = {"quarter": Fraction(1, 4), "half": Fraction(1, 2), "three_quarters": Fraction(3, 4)}
_FACTORS = {Fraction(1): Fraction(1), Fraction(3): ROOT_OF_THREE}
_NOT_LIQUID = "fuel at part load is worked out for liquid fuel alone"
_LIMITS = (
    "The calculated load all day, taken at a power factor of 1, which is the most that it can be. The data sheet goes "
    "before a straight line between its points."
)


def fuel_at_its_load(context: Context, subject: Subject, name: str) -> Derived:
    """Gallons an hour on a straight line between the points of the sheet; it rises with load and points, falls with
    the rating. Never more than at full load, and where a point is open anything up to that.
    """
    fuel = context.read(subject, "fuel").atom
    if fuel is None:
        return Derived(Ends(NOTHING, None).value, unit=_UNIT)
    if fuel not in _LIQUID:
        return no_answer(_NOT_LIQUID)
    full = context.read(subject, "full_load_fuel")
    if full.only_absent:
        reason = f"the sheet of {subject} gives no fuel at full load"
        return no_answer(reason)
    share = _share(context, subject, f"rated_power.{fuel}")
    points = {load: context.read(subject, f"part_load_fuel.{part}") for part, load in _POINTS.items()}
    least, most = (_worked(points, full, share, upper=upper) for upper in (False, True))
    all_known = share.least == share.most and all(each.is_exact for each in (full, *points.values()))
    if all_known and isinstance(most, OutsideLimits):
        return no_answer(str(most))
    low = least.value if isinstance(least, Worked) else NOTHING
    high = most.value if isinstance(most, Worked) else ends_of(full).most
    sheet = None
    if isinstance(least, Worked) and isinstance(most, Worked):
        sheet = _sheet(context, subject, name, TwoEnds(least, most), share)
    return Derived(Ends(low, high).value, unit=_UNIT, worksheet=sheet)


# --- the load --------------------------------------------------------------------------------------------------------


def _share(context: Context, subject: Subject, rating: str) -> Ends:
    """The load over the rating, k V I / P, and never more than the whole of it."""
    phases, voltage = (context.read(subject, f"system.{each}") for each in ("phases", "voltage"))
    factor = None if phases.number is None else _FACTORS.get(phases.number)
    current, volts, power = _load(context, subject), ends_of(voltage), ends_of(context.read(subject, rating))
    if factor is None:
        return Ends(NOTHING, _FULL)
    low = factor * current.least * volts.least / power.most if power.most else NOTHING
    high = None
    if current.most is not None and volts.most is not None and power.least:
        high = factor * current.most * volts.most / power.least
    return Ends(min(low, _FULL), _FULL if high is None else min(high, _FULL))


def _load(context: Context, subject: Subject) -> Ends:
    """What load management leaves where there is any, else all that is connected automatically. Nothing at the least
    where more load management may be there than is drawn.
    """
    found = ends_of(context.read(subject, _counts(context, subject)))
    return found if context.all_drawn("load_manager") else Ends(NOTHING, found.most)


def _counts(context: Context, subject: Subject) -> str:
    return "managed_load" if managers_of(context, subject) else "automatic_load"


# --- the fuel --------------------------------------------------------------------------------------------------------


def _worked(
    points: dict[Fraction, Possible], full: Possible, share: Ends, *, upper: bool
) -> Worked | OutsideLimits | None:
    """At the most or at the least; None where a point may be there or not, or has no such end."""
    load = share.most if upper else share.least
    found = []
    for at, rate in (*points.items(), (_FULL, full)):
        if rate.only_absent:
            continue
        end = _end(rate, upper=upper)
        if end is None:
            return None
        found.append(Point(at, end))
    assert load is not None
    try:
        return FUEL_AT_LOAD(PartLoad(Curve(tuple(found), _UNIT, _SHEET), load))
    except OutsideLimits as limit:
        return limit


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    if hull is None or value.absent:
        return None
    return hull.high if upper else hull.low


# --- worksheet -------------------------------------------------------------------------------------------------------


def _sheet(context: Context, subject: Subject, name: str, ends: TwoEnds, share: Ends) -> Worksheet:
    lines = list(_given(context, subject))
    formula = "k x voltage x load / rating, never above 100 %"
    lines.append(
        Line(str(len(lines) + 1), "load over the rating", formula, number_text(share.value, "ratio", "%"), "", "")
    )
    lines += step_lines(ends)
    assumed = tuple(dict.fromkeys((*ends.least.assumptions, *(ends.most.assumptions if ends.most else ()))))
    return Worksheet(f"{subject.id}.{name}", FUEL_AT_LOAD.title, subject.id, tuple(lines), _LIMITS, assumed)


def _given(context: Context, subject: Subject) -> Iterator[Line]:
    fuel = context.read(subject, "fuel").atom
    facts = [f"rated_power.{fuel}", "system.voltage", _counts(context, subject), "full_load_fuel"]
    facts += [f"part_load_fuel.{part}" for part in _POINTS]
    for place, each in enumerate(facts, start=1):
        fact, known = context.catalog.facts[each], context.known(subject, each)
        yield Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))

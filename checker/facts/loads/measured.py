"""The load by measured demand: the record of a meter, raised, and what is added."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.existing import MEASURED_LOAD, DemandRecord, MeasuredCase, MeasuredNumbers
from checker.engineering.worked import Worked
from checker.facts.derivation import Context
from checker.facts.loads.methods import Ends
from checker.facts.loads.premises import Counts, Load, Premises, end, premises
from checker.facts.numbers import cited, number_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import SITE, Subject
from checker.values.possible import exactly, several
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

FACTOR = "factor-of-measured-demand"
A_YEAR, THIRTY_DAYS = "demand-record-of-a-year", "demand-record-of-thirty-days"
INTERVAL = "demand-record-interval"
SOLAR_BARS_ALL = "share-of-records-that-solar-bars"
NUMBERS = (FACTOR, A_YEAR, THIRTY_DAYS, INTERVAL, SOLAR_BARS_ALL)

GREATEST, LENGTH, OF_INTERVAL = "greatest_demand", "record_length", "record_interval"
READS = ("paper", GREATEST, LENGTH, OF_INTERVAL, "added", "other_sources", "behind")

_DAY, _MINUTE = 86_400, 60
_WHOLE = Fraction(1)


def measured(context: Context, here: Counts) -> tuple[Premises, Ends]:
    """The load of everything on the service, in VA, and the loads that are added with the demand that was measured.

    It rises with the demand and with every load that is added. Raises OutsideLimits where there is no record, where it
    is not known to be long enough, or where solar may have lowered it.
    """
    record = _record(context)
    added = premises(context, _is_added(context, here), asks=frozenset(), is_part=True)
    found = Premises({GREATEST: context.known(record, GREATEST)}, added.loads, added.complete, is_part=True)
    numbers = _numbers(context.numbers)
    least, most = (_at(context, record, found, numbers, upper=upper) for upper in (False, True))
    if least is None:
        raise OutsideLimits("The record of demand does not tell its greatest demand.")
    return found, Ends(MEASURED_LOAD.title, MEASURED_LOAD.limits, least, most)


def _record(context: Context) -> Subject:
    papers = context.members("papers").members
    records = [each for each in papers if context.read(each, "paper") == exactly("demand_record")]
    if len(records) != 1:
        raise OutsideLimits("The load is by measured demand, and not one record of demand is among the papers.")
    return records[0]


def _is_added(context: Context, here: Counts) -> Counts:
    def counts(load: Subject) -> Truth:
        return all_of((here(load), relate("is", context.read(load, "added"), exactly(True))))

    return counts


def _at(context: Context, record: Subject, found: Premises, numbers: MeasuredNumbers, *, upper: bool) -> Worked | None:
    demand = end(found.figures[GREATEST].value, upper=upper)
    ratings = [end(each.power.value, upper=upper) for each in found.loads if _counts(each, upper=upper)]
    known = [each for each in ratings if each is not None]
    if demand is None or len(known) < len(ratings) or (upper and not found.complete):
        return None
    days, minutes = _exact(context, record, LENGTH) / _DAY, _exact(context, record, OF_INTERVAL) / _MINUTE
    measured_demand = DemandRecord((demand,), minutes, days, _may_have_solar(context))
    return MEASURED_LOAD(MeasuredCase(measured_demand, sum(known, Fraction(0)), numbers))


def _counts(load: Load, *, upper: bool) -> bool:
    return load.counts is Truth.YES or (upper and load.counts is Truth.UNKNOWN)


def _exact(context: Context, record: Subject, name: str) -> Fraction:
    number = context.read(record, name).number
    if number is None:
        raise OutsideLimits(f"{context.catalog.facts[name].title.capitalize()} is not shown.")
    return number


def _may_have_solar(context: Context) -> bool:
    """Whether a source that runs beside the utility may have lowered what was measured."""
    solar = several(("solar",))
    inverters = (context.drawing.pieces[tag] for tag in context.drawing.of("inverter"))
    said = (context.read(SITE, "other_sources"), *(context.read(each, "behind") for each in inverters))
    return any(not each.only_absent and relate("includes", each, solar) is not Truth.NO for each in said)


def _numbers(numbers: NumbersInForce) -> MeasuredNumbers:
    return MeasuredNumbers(
        factor=number_in_force(numbers, FACTOR),
        longest_interval=number_in_force(numbers, INTERVAL) / _MINUTE,
        days_of_a_year=number_in_force(numbers, A_YEAR) / _DAY,
        days_of_a_short_record=number_in_force(numbers, THIRTY_DAYS) / _DAY,
        source_bars_all=number_in_force(numbers, SOLAR_BARS_ALL) == _WHOLE,
        source=cited(numbers, FACTOR),
    )

"""What the conductors of a run carry: between the least and the most that what is known of them allows.

The calculation rises with size, parallel conductors and terminals and falls with the temperature and the number of
conductors together; of metals and insulations, which have no order, every one that is possible is worked out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import ceil, floor

from checker.catalog.model import Feeding
from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.ampacity import (
    AMPACITY,
    AmpacityCase,
    AmpacityTables,
    Conductors,
    Surroundings,
    ampacity_alone,
    smallest_size,
)
from checker.engineering.conductors.tables import LimitedRow
from checker.facts.conductors.numbers import ampacity_tables
from checker.facts.conductors.run import NEUTRAL, PHASE, SIZE, Run, facts_of, not_shown, of_wire, run_of
from checker.facts.conductors.sheet import ampacity_sheet
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.derivation import Work as Derivation
from checker.facts.two_ends import TwoEnds
from checker.site.model import Subject
from checker.values.possible import Span, between
from checker.values.wire_sizes import WireSize

_NOTHING = Fraction(0)


def ampacity(wire: str) -> Derivation:
    """The work of the ampacity of the phase conductors or of the neutral of a connection, as bounds; undefined for
    cords, which have tables of their own.
    """

    def work(context: Context, subject: Subject, name: str) -> Derived:
        if context.catalog.kinds[context.drawing.pieces[context.drawing.feed(subject).to].type].feeding is Feeding.CORD:
            return no_answer("the ampacity of a cord is not worked out; it has to be stated")
        if context.read(subject, wire).only_absent:
            return no_answer("there is no such conductor")
        if wire == NEUTRAL and not_shown(context.read(subject, of_wire(SIZE, wire))):
            # Nobody is asked for what lies around a conductor before it is there.
            return no_answer("the size of the neutral conductor is not shown")
        try:
            tables = ampacity_tables(context.numbers)
            facts = facts_of(context, subject, wire)
            ends = ampacity_ends(run_of(context, facts, columns_of(tables)), tables)
        except OutsideLimits as limit:
            return no_answer(str(limit))
        sheet = ampacity_sheet(context, subject, name, facts, ends, wire)
        most = None if ends.most is None else ends.most.value
        return Derived(between(ends.least.value, most), unit="A", worksheet=sheet)

    return work


def terminal_ampacity(context: Context, subject: Subject, _name: str) -> Derived:
    """I = n x I_terminals, in the column of the terminals or of the insulation, whichever is lower: what the conductors
    carry before surroundings and number take anything off. Never less than the ampacity that is worked out.
    """
    try:
        tables = ampacity_tables(context.numbers)
        run = run_of(context, facts_of(context, subject, PHASE), columns_of(tables))
        least, most = (list(_at_terminals(run, tables, upper=upper)) for upper in (False, True))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if not least or not most:
        return no_answer("no table has an ampacity for such conductors")
    return Derived(between(min(least), None if run.sets.high is None else max(most)), unit="A")


def _at_terminals(run: Run, tables: AmpacityTables, *, upper: bool) -> Iterator[Fraction]:
    for material, _, temperature in _possible(run):
        column = tables.ampacities.column(material, temperature)
        sizes = column.between(run.sizes.low, run.sizes.high)
        if sizes:
            yield column.ampacities[sizes[-1 if upper else 0]] * _sets(run, upper=upper)


def ampacity_ends(run: Run, tables: AmpacityTables) -> TwoEnds:
    """The least and the most; OutsideLimits where nothing that is possible has an ampacity."""
    least = min(_every_result(run, tables, upper=False), key=_carried)
    most = max(_every_result(run, tables, upper=True), key=_carried)
    return TwoEnds(AMPACITY(least.case), None if run.sets.high is None else AMPACITY(most.case))


@dataclass(frozen=True, slots=True)
class _Result:
    """What one case of what is possible carries (A)."""

    carried: Fraction
    case: AmpacityCase


def _carried(result: _Result) -> Fraction:
    return result.carried


def columns_of(tables: AmpacityTables) -> tuple[Fraction, ...]:
    """The temperatures for which there are ampacities."""
    return tuple(sorted({column.temperature for column in tables.ampacities.columns}))


def must_carry_something(run: Run, tables: AmpacityTables) -> None:
    """OutsideLimits where nothing that is possible has an ampacity at one of the two ends."""
    for upper in (False, True):
        next(_every_result(run, tables, upper=upper))


def _every_result(run: Run, tables: AmpacityTables, *, upper: bool) -> Iterator[_Result]:
    """The result at one end for every metal, insulation and column that is possible and has an answer, one after
    another; OutsideLimits instead of the first where there is none.
    """
    is_there = False
    why = "the terminals are marked for less than any column of the table"
    for material, insulation, column in _possible(run):
        try:
            conductors = Conductors(
                _size(run, tables, material, column, upper=upper),
                material,
                insulation,
                _sets(run, upper=upper),
            )
            around = _around(run, tables, insulation, upper=upper)
            case = AmpacityCase(conductors, around, column, tables)
            found = _Result(ampacity_alone(case), case)
        except OutsideLimits as limit:
            why = str(limit)
            continue
        is_there = True
        yield found
    if not is_there:
        raise OutsideLimits(why)


def _possible(run: Run) -> Iterator[tuple[str, Fraction, Fraction]]:
    """Every metal, insulation and column for the terminals; columns past the insulation are all that of the insulation,
    and it is looked at once.
    """
    for material, insulation in product(run.materials, run.insulations):
        for column in dict.fromkeys(min(each, insulation) for each in run.columns):
            yield material, insulation, column


Limits = Mapping[tuple[WireSize, str], Fraction]
"""The largest overcurrent device (A) of a small conductor by size and metal."""


def smallest_behind(
    run: Run, tables: AmpacityTables, limits: Limits, device: Fraction, *, kindest: bool
) -> WireSize | None:
    """The smallest size that carries a device (A) in full and may stand behind it, all else as it is: where the run is
    kindest to the conductors, or where it is hardest. None where no size does, or none at the hardest.
    """
    found = list(_smallest_of_each(run, tables, limits, device, kindest=kindest))
    carrying = [size for size in found if size is not None]
    if kindest:
        return min(carrying, default=None)
    return max(carrying) if carrying and len(carrying) == len(found) else None


def smallest_by_ampacity(run: Run, tables: AmpacityTables, said: Span, device: Fraction) -> WireSize | None:
    """The smallest size that could carry a device (A) where the conductors that are there carry no more than what is
    said of them: at their terminals another size carries what its column has, by their surroundings as much less as
    they do. None where nothing is said, the size is open, or no size could.
    """
    if said.high is None or said.low is None or run.sizes.low is None or run.sizes.low != run.sizes.high:
        return None
    if run.sets.low is None or run.sets.low != run.sets.high or run.sets.low < 1:
        return None
    low, high, needed = said.low / run.sets.low, said.high / run.sets.low, device / run.sets.low
    found: list[WireSize] = []
    for material, temperature in product(run.materials, columns_of(tables)):
        column = tables.ampacities.column(material, temperature)
        here = next((column.ampacities[size] for size in column.between(run.sizes.low, run.sizes.low)), None)
        if here is not None and here >= low:
            share = Fraction(1) if here <= high else high / here
            found += [size for size in column.sizes if column.ampacities[size] * share >= needed][:1]
    return min(found, default=None)


def _smallest_of_each(
    run: Run, tables: AmpacityTables, limits: Limits, device: Fraction, *, kindest: bool
) -> Iterator[WireSize | None]:
    """The smallest size for every metal, insulation and column that is possible and carries anything there."""
    sets = _sets(run, upper=kindest)
    for material, insulation, column in _possible(run):
        sizes = tables.ampacities.column(material, insulation).sizes
        try:
            around = _around(run, tables, insulation, upper=kindest)
            case = AmpacityCase(Conductors(sizes[0], material, insulation, sets), around, column, tables)
            ampacity_alone(case)
        except OutsideLimits:
            continue
        try:
            carries = smallest_size(case, device)
        except OutsideLimits:
            yield None
            continue
        yield next(size for size in sizes if size >= carries and _may(size, material, limits, device))


def _may(size: WireSize, material: str, limits: Limits, device: Fraction) -> bool:
    limit = limits.get((size, material))
    return limit is None or device <= limit


def _size(run: Run, tables: AmpacityTables, material: str, column: Fraction, *, upper: bool) -> WireSize:
    """The smallest or the largest size of the table that is possible."""
    sizes = tables.ampacities.column(material, column).between(run.sizes.low, run.sizes.high)
    if not sizes:
        raise OutsideLimits(f"{tables.ampacities.source} has no ampacity for this size of {material.replace('_', '-')}")
    return sizes[-1] if upper else sizes[0]


def _sets(run: Run, *, upper: bool) -> int:
    end = run.sets.high if upper else run.sets.low
    return max(1, 1 if end is None else floor(end))


def _around(run: Run, tables: AmpacityTables, insulation: Fraction, *, upper: bool) -> Surroundings:
    """The surroundings at one end: coolest, alone and short for the most, hottest for the least."""
    rows = tables.by_temperature.by_insulation.get(insulation, ())
    roof = (run.roof.low if upper else run.roof.high) or _NOTHING
    length = (run.length.low or _NOTHING) if upper else run.length.high
    return Surroundings(
        ambient=_temperature(run, rows, upper=upper) - roof,
        count=_count(run, tables.by_count.rows, upper=upper),
        roof_adder=roof,
        length=length,
    )


def _temperature(run: Run, rows: Sequence[LimitedRow], *, upper: bool) -> Fraction:
    """The temperature around the conductors with what the roof adds. Without an end it is that of the first or the
    last row, past which there is no answer.
    """
    ends = [row.up_to for row in rows if row.up_to is not None]
    if not ends:
        raise OutsideLimits("no factor by temperature for this insulation")
    low, high = _sum(run.ambient.low, run.roof.low), _sum(run.ambient.high, run.roof.high)
    if upper:
        coolest = ends[0] if high is None else min(ends[0], high)
        return coolest if low is None else low
    hottest = ends[-1] if high is None else min(ends[-1], high)
    return hottest if low is None else max(hottest, low)


def _sum(ambient: Fraction | None, roof: Fraction | None) -> Fraction | None:
    return None if ambient is None or roof is None else ambient + roof


def _count(run: Run, rows: Sequence[LimitedRow], *, upper: bool) -> int:
    """How many lie together; without an end as many as the last row is for."""
    if upper:
        return 1 if run.together.low is None else max(1, ceil(run.together.low))
    if run.together.high is not None:
        return max(1, floor(run.together.high))
    return 1 + max(int(row.up_to) for row in rows if row.up_to is not None)

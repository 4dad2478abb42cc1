"""The other side of a comparison: words, facts, numbers that a document sets, and simple sums of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import product

from checker.facts.known import Known, Origin
from checker.findings.judging.evidence import Evidence
from checker.findings.judging.paths import Place
from checker.rules.model.conditions import (
    Combined,
    FactOperand,
    Lookup,
    NextSize,
    Operand,
    ParameterOperand,
    Scaled,
    Words,
)
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.numbers import ParameterValue, Row, TableValues
from checker.site.model import Subject
from checker.values.arithmetic import largest, product_of, smallest, total
from checker.values.dates import CalendarSpan
from checker.values.possible import Possible, Span, exactly, number, several, undefined, union_of
from checker.values.relations import relate
from checker.values.sizes import next_sizes
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class Numbers:
    """The parameters and tables of the edition in force, and which of them have been read."""

    parameters: Mapping[str, ParameterValue]
    tables: Mapping[str, TableValues]
    read: set[str] = field(default_factory=set)

    @staticmethod
    def of(rule: RuleInForce) -> Numbers:
        """The numbers that one rule in force may read."""
        return Numbers(rule.parameters, rule.tables)


@dataclass(frozen=True, slots=True)
class Term:
    """One operand worked out. ``span`` is set for a length of time by the calendar; ``no_limit`` makes any comparison
    yes.
    """

    known: Known
    label: str
    subject: Subject | None = None
    fact: str | None = None
    span: CalendarSpan | None = None
    no_limit: bool = False


def term(evidence: Evidence, numbers: Numbers, operand: Operand, place: Place) -> Term:
    """Work out one operand at a place."""
    match operand:
        case Words():
            return Term(_constant(_words(operand)), "")
        case FactOperand():
            subject, known = evidence.fact(place, operand.path)
            return Term(known, str(operand.path), subject, operand.path.name)
        case ParameterOperand():
            return _parameter(numbers, operand.name)
        case Combined():
            return _combined(evidence, numbers, operand, place)
        case Scaled():
            return _scaled(evidence, numbers, operand, place)
        case NextSize():
            return _next_size(evidence, numbers, operand, place)
        case Lookup():
            return _lookup(evidence, numbers, operand, place)


def _constant(value: Possible, text: str | None = None, unit: str | None = None) -> Known:
    return Known(value, Origin.STATED, frozenset(), unit=unit, text=text)


def _words(words: Words) -> Possible:
    if words.is_list:
        return several(str(word) for word in words.words)
    return exactly(words.words[0])


def _parameter(numbers: Numbers, name: str) -> Term:
    numbers.read.add(name)
    parameter = numbers.parameters[name]
    if parameter.value is None:
        return Term(_constant(several(()), parameter.text), name, no_limit=True)
    if isinstance(parameter.value, CalendarSpan):
        return Term(_constant(several(()), parameter.text), name, span=parameter.value)
    return Term(_constant(parameter.value, parameter.text, parameter.unit), name)


def _gathered(value: Possible, parts: tuple[Term, ...], label: str) -> Term:
    """A worked-out operand that rests on everything its parts rest on and is shown in the unit of the first."""
    leaves = frozenset().union(*(part.known.leaves for part in parts))
    unit = next((part.known.unit for part in parts if part.known.unit), None)
    reasons = tuple(reason for part in parts for reason in part.known.reasons)
    source = next((part for part in parts if part.fact is not None), None)
    known = Known(value, Origin.DERIVED, leaves, unit=unit, reasons=reasons)
    return Term(known, label, None if source is None else source.subject, None)


def _combined(evidence: Evidence, numbers: Numbers, combined: Combined, place: Place) -> Term:
    parts = tuple(term(evidence, numbers, each, place) for each in combined.operands)
    values = [part.known.value for part in parts]
    if combined.how == "sum_of" and any(part.no_limit for part in parts):
        return _without_limit("sum of what has no limit")
    if combined.how == "sum_of":
        kept = [value for value in values if not value.only_absent] if combined.skip_absent else values
        possible = total([_or_nothing(value) for value in kept] if combined.skip_absent else kept)
    else:
        extreme = largest if combined.how == "largest_of" else smallest
        possible = extreme(values, skip_absent=combined.skip_absent)
    return _gathered(possible, parts, f"{combined.how.replace('_', ' ')} {', '.join(part.label for part in parts)}")


def _or_nothing(value: Possible) -> Possible:
    """A term of a sum that counts as zero where it is absent."""
    there = value.present()
    if not value.absent:
        return value
    return number(0) if there is None else there.union(number(0))


def _without_limit(label: str) -> Term:
    """What comes of a number that has no limit."""
    return Term(_constant(several(()), label), label, no_limit=True)


def _scaled(evidence: Evidence, numbers: Numbers, scaled: Scaled, place: Place) -> Term:
    parts = (term(evidence, numbers, scaled.operand, place), term(evidence, numbers, scaled.factor, place))
    label = f"{parts[1].label} of {parts[0].label}"
    if any(part.no_limit for part in parts):
        return _without_limit(label)
    found = _gathered(product_of(*(part.known.value for part in parts)), parts, label)
    # A quantity times a ratio stays in the unit of the quantity, also where that has none of its own.
    return replace(found, known=replace(found.known, unit=parts[0].known.unit))


def _next_size(evidence: Evidence, numbers: Numbers, wanted: NextSize, place: Place) -> Term:
    part = term(evidence, numbers, wanted.operand, place)
    table = numbers.tables[wanted.table]
    numbers.read.add(wanted.table)
    label = f"next size above {part.label}"
    if part.no_limit:
        return _without_limit(label)
    sizes = [row.value for row in table.rows]
    value = part.known.value
    chosen = [_next_of_span(span, sizes, table.beyond) for span in value.spans]
    undecided = Possible(undefined=value.undefined) if value.undefined else None
    gone = Possible(absent=True) if value.absent else None
    return _gathered(union_of([*chosen, *(each for each in (undecided, gone) if each)]), (part,), label)


def _next_of_span(span: Span, sizes: list[Possible], beyond: str) -> Possible:
    """Every size that can be the smallest one not below a number of the span."""
    found, may_lie_beyond = next_sizes(span, sizes)
    return union_of([*found, undefined(beyond)] if may_lie_beyond else found)


def _lookup(evidence: Evidence, numbers: Numbers, lookup: Lookup, place: Place) -> Term:
    keys = {name: term(evidence, numbers, operand, place) for name, operand in lookup.keys.items()}
    numbers.read.add(lookup.table)
    table = numbers.tables[lookup.table]
    values = {name: key.known.value for name, key in keys.items()}
    found = _gathered(cell(table, values), tuple(keys.values()), lookup.table.replace("-", " "))
    # The units of the keys say nothing about the unit of the cell.
    return replace(found, known=replace(found.known, unit=None))


def cell(table: TableValues, keys: Mapping[str, Possible]) -> Possible:
    """What a table can give for these keys. A row holds, for a number, everything from just above the row before up
    to itself.
    """
    if any(value.only_absent for value in keys.values()):
        return Possible(absent=True)
    gone = any(value.absent for value in keys.values())
    reasons = {reason for value in keys.values() for reason in value.undefined}
    asked = {name: value.value_alone() for name, value in keys.items()}
    values = {name: value for name, value in asked.items() if value is not None}
    chosen = [row.value for row in table.rows if _can_match(row, values)] if len(values) == len(keys) else []
    if len(values) == len(keys) and not (chosen if _is_point(values) else _surely_covered(table, values)):
        reasons.add(table.beyond)
    parts = [*chosen, *(undefined(reason) for reason in sorted(reasons)), *((Possible(absent=True),) if gone else ())]
    return union_of(parts)


def _is_point(keys: Mapping[str, Possible]) -> bool:
    """Whether nothing is open: then a row that can match is the answer."""
    return all(value.is_exact for value in keys.values())


def _can_match(row: Row, keys: Mapping[str, Possible]) -> bool:
    return all(relate("is", value, row.keys[name]) is not Truth.NO for name, value in keys.items())


def _surely_covered(table: TableValues, keys: Mapping[str, Possible]) -> bool:
    """Whether some row answers for every combination that the keys leave open.

    Keys with few alternatives are taken one by one. A wider one is covered where the rows that are left for all
    others reach over all of it together; two wide ones are more than the rows of a table can show.
    """
    listed = {name: each for name, value in keys.items() if (each := value.alternatives()) is not None}
    wide = [name for name in keys if name not in listed]
    if len(wide) > 1:
        return False
    for point in product(*listed.values()):
        rows = [row for row in table.rows if _can_match(row, dict(zip(listed, point, strict=True)))]
        if not rows or not all(union_of(row.keys[name] for row in rows).covers(keys[name]) for name in wide):
            return False
    return True

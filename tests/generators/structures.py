"""What a person can write for a fact with parts: none, a short text, a line that gives several parts, or the parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.catalog.model import Catalog, Fact, ValueType
from checker.values.possible import ABSENT, Possible, exactly, number, union_of
from checker.values.wire_sizes import SIZES
from tests.generators.choosing import Chooser
from tests.generators.written import NONE, UNKNOWN, Written, exact, written

IS_THERE = exactly(True)

Facts = dict[str, Written]
"""What is written for a fact and for its parts, by name."""

Lines = Mapping[str, Mapping[str, str]]
"""Lines of text that give several parts at once, with what each gives."""

_SYSTEMS: Lines = {
    "120/240 V 1-phase 3-wire": {
        "voltage": "240 V", "to_neutral": "120 V", "phases": "1", "wires": "3", "ungrounded": "2", "connection": "split",  # noqa: E501
    },
    "208Y/120 V 3-phase 4-wire": {
        "voltage": "208 V", "to_neutral": "120 V", "phases": "3", "wires": "4", "ungrounded": "3", "connection": "wye",
    },
    "480Y/277 V 3-phase 4-wire": {
        "voltage": "480 V", "to_neutral": "277 V", "phases": "3", "wires": "4", "ungrounded": "3", "connection": "wye",
    },
    "480 V 3-phase 3-wire": {
        "voltage": "480 V", "to_neutral": "none", "phases": "3", "wires": "3", "ungrounded": "3", "connection": "delta",
    },
}  # fmt: skip
_CONDUCTORS: Lines = {
    "3 AWG copper": {"size": "3 AWG", "material": "copper", "parallel_sets": "1"},
    "2/0 AWG aluminum": {"size": "2/0 AWG", "material": "aluminum", "parallel_sets": "1"},
    "2 x 250 kcmil Cu THWN-2": {
        "size": "250 kcmil", "material": "copper", "parallel_sets": "2", "insulation": "THWN-2", "bare": "no",
    },
}  # fmt: skip
LINES: Mapping[str, Lines] = {"voltage_system": _SYSTEMS, "conductor": _CONDUCTORS}
"""By the word that the catalog has for how such a line is read."""


def written_structure(choose: Chooser, catalog: Catalog, fact: Fact, tags: Sequence[str]) -> Facts:
    """Anything that a person may write for a fact with parts; what is not written is not in the result."""
    if fact.may_be_none and choose.chance(15):
        return {name: Written(ABSENT, NONE) for name in (fact.name, *_part_names(fact))}
    if fact.quantity is not None:
        return _value_with_parts(choose, catalog, fact, tags)
    if choose.chance(8):
        return {fact.name: Written(fact.anything(), UNKNOWN)}
    if fact.reads is not None and choose.chance(60):
        return _line(choose, catalog, fact)
    if fact.short_for is not None and choose.chance(40):
        return _short(choose, catalog, fact, tags)
    return _parts(choose, catalog, fact, tags)


def _part_names(fact: Fact) -> tuple[str, ...]:
    return tuple(f"{fact.name}.{part}" for part in fact.parts)


def _value_with_parts(choose: Chooser, catalog: Catalog, fact: Fact, tags: Sequence[str]) -> Facts:
    """A quantity, and perhaps what is said beside it."""
    parts = choose.some(fact.parts) if choose.chance(40) else []
    found = {fact.name: written(choose, fact, tags)}
    return found | {f"{fact.name}.{part}": written(choose, _part(catalog, fact, part), tags) for part in parts}


def _part(catalog: Catalog, fact: Fact, part: str) -> Fact:
    return catalog.facts[f"{fact.name}.{part}"]


def _line(choose: Chooser, catalog: Catalog, fact: Fact) -> Facts:
    """One line, or one of two lines, or a line or nothing."""
    lines = LINES[fact.reads or ""]
    chosen = choose.some(list(lines), least=1, most=2 if choose.chance(15) else 1)
    absent = fact.may_be_none and choose.chance(15)
    text = " or ".join([*chosen, *([NONE] if absent else [])])
    found = {fact.name: Written(Possible(frozenset({True}), absent=absent), text)}
    for part in fact.parts:
        given = [_read(_part(catalog, fact, part), lines[each][part]) for each in chosen if part in lines[each]]
        if len(given) == len(chosen):
            value = union_of([*(each.value for each in given), *([ABSENT] if absent else [])])
            texts = [each.text for each in given] + ([NONE] if absent else [])
            found[f"{fact.name}.{part}"] = Written(value, " or ".join(dict.fromkeys(texts)), given[0].unit)
    return found


def _read(fact: Fact, text: str) -> Written:
    """One part of a line as the table above gives it."""
    if text == NONE:
        return Written(ABSENT, text)
    if fact.type is ValueType.QUANTITY:
        return Written(number(Fraction(text.partition(" ")[0])), text, text.partition(" ")[2])
    if fact.type is ValueType.COUNT:
        return Written(number(Fraction(text)), text)
    if fact.type is ValueType.WIRE_SIZE:
        return Written(number(SIZES[text].circular_mils), text)
    return Written(exactly({"yes": True, "no": False}.get(text, text)), text)


def _short(choose: Chooser, catalog: Catalog, fact: Fact, tags: Sequence[str]) -> Facts:
    """The text of one part in place of the whole."""
    name = fact.short_for or ""
    part = _part(catalog, fact, name)
    value = written(choose, part, tags, may_be_none=fact.may_be_none or part.may_be_none)
    if value.text in (NONE, UNKNOWN):
        value = exact(choose, part, tags)
    whole = Possible(frozenset({True}), absent=value.value.absent)
    return {fact.name: Written(whole, value.text), f"{fact.name}.{name}": value}


def _parts(choose: Chooser, catalog: Catalog, fact: Fact, tags: Sequence[str]) -> Facts:
    """Some of the parts, each by itself."""
    found = {part: written(choose, _part(catalog, fact, part), tags) for part in choose.some(fact.parts, least=1)}
    text = ", ".join(f"{part} {value.text}" for part, value in found.items())
    return {fact.name: Written(IS_THERE, text), **{f"{fact.name}.{part}": value for part, value in found.items()}}

"""Operands of what is only partly known: what can come out is exactly what comes out for some choice of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest

from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers, cell, term
from checker.findings.judging.paths import Place
from checker.findings.review import view_of
from checker.rules.grammar import COMBINATIONS
from checker.rules.model.citing import Checked
from checker.rules.model.conditions import Combined, Lookup, NextSize, ParameterOperand, Scaled
from checker.rules.model.numbers import ParameterValue, Row, TableValues
from checker.site.model import SITE
from checker.values.possible import ABSENT, Possible, Span, exactly, number, numbers, one_of
from tests.generators.cases import CATALOG, seeded_case
from tests.generators.choosing import Chooser, seeded
from tests.soundness.budget import seeds

_WORDS = ("copper", "aluminum", "copper_clad_aluminum")
_NUMBERS = tuple(Fraction(each) for each in (60, 100, 125, 200))
_NEAR = Fraction(1, 1000)
_BEYOND = "past it an engineer decides"
_CHECKED = Checked("high", "tried")
_EVIDENCE = SiteEvidence(view_of(seeded_case(0).site, CATALOG))

Found = tuple[frozenset[Fraction], bool, bool]
"""Which values can be found, whether none may be asked for, and whether the table may not reach so far."""


def _table(choose: Chooser) -> TableValues:
    """For each word rows that rise, with gaps and with an end of their own."""
    rows = []
    for word in choose.some(_WORDS, least=1):
        low: Fraction | None = None if choose.chance(50) else Fraction(1)
        low_open = False
        for high in choose.some(_NUMBERS, least=1):
            key = Possible(spans=(Span(low, high, low_open),))
            if choose.chance(85):
                rows.append(Row({"amperes": key, "word": exactly(word)}, number(choose.whole(1, 9)), "a size"))
            low, low_open = high, True
    spare = Row({"amperes": number(60), "word": exactly("copper")}, number(1), "a size")
    return TableValues(tuple(rows) or (spare,), _BEYOND, (), _CHECKED)


def _amperes(choose: Chooser) -> Possible:
    ends = sorted((choose.one((Fraction(0), *_NUMBERS)), choose.one((*_NUMBERS, Fraction(300)))))
    way = choose.whole(1, 5)
    if way == 1 or ends[0] == ends[1]:
        spans: tuple[Span, ...] = (Span(ends[0], ends[0]),)
    elif way == 2:
        spans = (Span(ends[0], ends[0]), Span(ends[1], ends[1]))
    else:
        low, high = (None if way == 3 else ends[0]), (None if way == 4 else ends[1])
        is_open = choose.chance(30)
        spans = (Span(low, high, is_open and low is not None, is_open and high is not None),)
    return Possible(spans=spans, absent=choose.chance(15))


def _words(choose: Chooser) -> Possible:
    words = one_of(choose.some((*_WORDS, "steel"), least=1, most=3))
    return Possible(words.atoms, absent=choose.chance(15))


def _exact(possible: Possible) -> Iterator[Possible]:
    """Every key that matters: words, ends of spans and numbers beside all ends."""
    yield from (exactly(atom) for atom in possible.atoms)
    yield from ([ABSENT] if possible.absent else [])
    ends = {Fraction(0), Fraction(1), Fraction(10**6), *_NUMBERS, Fraction(300)}
    tried = sorted({end + step for end in ends for step in (-_NEAR, Fraction(0), _NEAR)})
    for span in possible.spans:
        yield from (number(each) for each in tried if span.holds(each))


def _one(table: TableValues, keys: Mapping[str, Possible]) -> Found:
    """What one key finds, looked up row by row."""
    if any(key == ABSENT for key in keys.values()):
        return frozenset(), True, False
    for row in table.rows:
        amperes, span = keys["amperes"].spans[0].low, row.keys["amperes"].spans[0]
        if keys["word"].atoms == row.keys["word"].atoms and amperes is not None and span.holds(amperes):
            return _numbers(row.value), False, False
    return frozenset(), False, True


def _numbers(possible: Possible) -> frozenset[Fraction]:
    return frozenset(span.low for span in possible.spans if span.low is not None)


def _all(found: list[Found]) -> Found:
    values = frozenset().union(*(values for values, _, _ in found))
    return values, any(absent for _, absent, _ in found), any(beyond for _, _, beyond in found)


def test_what_a_table_can_give_is_what_some_key_finds() -> None:
    for seed in seeds(1500):
        choose = seeded(seed)
        table, amperes, word = _table(choose), _amperes(choose), _words(choose)
        keys = [dict(zip(("amperes", "word"), pair, strict=True)) for pair in product(_exact(amperes), _exact(word))]
        given = cell(table, {"amperes": amperes, "word": word})
        said = (_numbers(given), given.absent, bool(given.undefined))
        assert said == _all([_one(table, each) for each in keys]), f"case {seed}: {table.rows}, {amperes}, {word}"


def _next(sizes: list[Fraction], asked: Possible) -> Found:
    if asked == ABSENT:
        return frozenset(), True, False
    large = [size for size in sizes if asked.spans[0].low is not None and size >= asked.spans[0].low]
    return (frozenset({min(large)}), False, False) if large else (frozenset(), False, True)


def test_the_next_size_is_that_of_some_number_that_is_possible() -> None:
    for seed in seeds(800):
        choose = seeded(seed)
        sizes, asked = choose.some(_NUMBERS, least=1), _amperes(choose)
        table = TableValues(tuple(Row({}, number(size), "a size") for size in sizes), _BEYOND, (), _CHECKED)
        book = Numbers({"asked": ParameterValue("asked", asked, "A", (), _CHECKED)}, {"sizes": table})
        given = term(_EVIDENCE, book, NextSize(ParameterOperand("asked"), "sizes"), Place(SITE, SITE)).known.value
        said = (_numbers(given), given.absent, bool(given.undefined))
        assert said == _all([_next(sizes, each) for each in _exact(asked)]), f"case {seed}: {sizes}, {asked}"


def _few_numbers(choose: Chooser) -> Possible:
    """One number or several, perhaps none, perhaps nothing but none."""
    if choose.chance(10):
        return ABSENT
    return replace(numbers(choose.some(_NUMBERS, least=1, most=2)), absent=choose.chance(30))


def _worked_out(how: str, chosen: Sequence[Possible], *, skip_absent: bool) -> Fraction | None:
    """What one choice of numbers gives; None for absent."""
    there = [each.number for each in chosen if each.number is not None]
    if len(there) < len(chosen) and not skip_absent:
        return None
    if how == "sum_of":
        return sum(there, Fraction(0))
    return (max if how == "largest_of" else min)(there, default=None)


@pytest.mark.parametrize("how", COMBINATIONS)
@pytest.mark.parametrize("skip_absent", [True, False])
def test_what_is_made_of_several_numbers_is_what_some_choice_of_them_gives(how: str, skip_absent: bool) -> None:
    for seed in seeds(150):
        choose = seeded(seed)
        asked = {f"number-{place}": _few_numbers(choose) for place in range(choose.whole(2, 3))}
        book = Numbers({name: ParameterValue(name, each, "A", (), _CHECKED) for name, each in asked.items()}, {})
        operand = Combined(how, tuple(ParameterOperand(name) for name in asked), skip_absent)
        given = term(_EVIDENCE, book, operand, Place(SITE, SITE)).known.value
        choices = product(*(each.alternatives() or () for each in asked.values()))
        wanted = {_worked_out(how, chosen, skip_absent=skip_absent) for chosen in choices}
        assert {*_numbers(given), *([None] if given.absent else [])} == wanted, f"case {seed}: {asked}"


def test_a_quantity_times_a_ratio_stays_in_the_unit_of_the_quantity() -> None:
    """What a table gives has no unit of its own, and took that of the ratio."""
    ratio = ParameterValue("125 %", number(Fraction(5, 4)), "%", (), _CHECKED)
    key = ParameterValue("60 A", number(60), "A", (), _CHECKED)
    row = Row({"amperes": number(60)}, number(5000), "5 kA")
    book = Numbers({"ratio": ratio, "key": key}, {"table": TableValues((row,), _BEYOND, (), _CHECKED)})
    operand = Scaled(Lookup("table", {"amperes": ParameterOperand("key")}), ParameterOperand("ratio"))
    of_a_number = Scaled(ParameterOperand("key"), ParameterOperand("ratio"))
    assert term(_EVIDENCE, book, operand, Place(SITE, SITE)).known.unit is None
    assert term(_EVIDENCE, book, of_a_number, Place(SITE, SITE)).known.unit == "A"

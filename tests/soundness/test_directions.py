"""What a calculation says of its inputs is so: over a box of inputs no result lies outside the bounds that it gives.

Every calculation of ``checker.engineering`` is found and sampled, those of tomorrow too.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

import checker.engineering
from checker.engineering.calculation import Calculation, OutsideLimits
from checker.values.possible import Possible, Span, number, numbers
from tests.generators.choosing import Chooser, drawn
from tests.generators.numbers import figures_of_kind
from tests.soundness.budget import examples
from tests.soundness.picking import from_span

_EXTREMES = (Fraction(-5), Fraction(0), Fraction(1, 3))


def _calculations() -> list[Calculation]:
    names = [each.name for each in pkgutil.iter_modules(checker.engineering.__path__, "checker.engineering.")]
    found = {
        id(value): value
        for name in names
        for value in vars(importlib.import_module(name)).values()
        if isinstance(value, Calculation)
    }
    return sorted(found.values(), key=lambda each: each.name)


CALCULATIONS = _calculations()


def test_there_are_calculations_to_sample() -> None:
    assert CALCULATIONS


def _box(choose: Chooser, calculation: Calculation) -> dict[str, Possible]:
    """What is possible for every input: one number, several, or a range, some of them without an end."""
    return {each.name: _possible(choose, each.quantity) for each in calculation.inputs}


def _possible(choose: Chooser, kind: str) -> Possible:
    usual = [figure.number for figure in figures_of_kind(kind)] + (list(_EXTREMES) if choose.chance(15) else [])
    low, high = sorted((choose.one(usual), choose.one(usual)))
    way = choose.whole(1, 6)
    if way in (1, 6) or low == high:
        return number(high)
    if way == 2:
        return numbers([low, high])
    if way == 3:
        return Possible(spans=(Span(low, None, low_open=choose.chance(50)),))
    if way == 4:
        return Possible(spans=(Span(None, high, high_open=choose.chance(50)),))
    return Possible(spans=(Span(low, high, choose.chance(30), choose.chance(30)),))


def _point(choose: Chooser, box: Mapping[str, Possible]) -> dict[str, Fraction]:
    return {name: from_span(choose, choose.one(possible.spans)) for name, possible in box.items()}


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_no_result_lies_outside_the_bounds_of_its_box(calculation: Calculation) -> None:
    sampled = 0

    @examples(250)
    @given(st.data())
    def sample(data: st.DataObject) -> None:
        nonlocal sampled
        choose = drawn(data.draw)
        box = _box(choose, calculation)
        bounds = calculation.over(box)
        for _ in range(4):
            point = _point(choose, box)
            try:
                result = calculation.at(point)
            except OutsideLimits:
                continue
            sampled += 1
            assert any(span.holds(result) for span in bounds.spans), f"{point} gives {result}, outside {bounds}"

    sample()
    assert sampled > 200


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: each.name)
def test_bounds_are_no_wider_than_the_results_at_exact_inputs(calculation: Calculation) -> None:
    """Where every input is one number, the bounds are that one result, or the limit that was passed."""

    @examples(100)
    @given(st.data())
    def exact(data: st.DataObject) -> None:
        choose = drawn(data.draw)
        point = {
            each.name: choose.one([*_EXTREMES, *(figure.number for figure in figures_of_kind(each.quantity))])
            for each in calculation.inputs
        }
        bounds = calculation.over({name: number(value) for name, value in point.items()})
        assert bounds == _at(calculation, point)

    exact()


def _at(calculation: Calculation, point: dict[str, Fraction]) -> Possible:
    try:
        return number(calculation.at(point))
    except OutsideLimits as limit:
        return Possible(undefined=(str(limit),))

"""Powers, roots and logarithms of exact numbers against the floating-point ones, and against themselves."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.powers import PI, log10, power, square_root

POSITIVE = st.fractions(Fraction(1, 10**6), 10**6)
EXPONENTS = st.fractions(-3, 3, max_denominator=1000)
TINY = Fraction(1, 10**25)


@given(POSITIVE, EXPONENTS)
def test_power(base: Fraction, exponent: Fraction) -> None:
    assert float(power(base, exponent)) == pytest.approx(math.pow(float(base), float(exponent)), rel=1e-12)


@given(POSITIVE, st.fractions(Fraction(1, 10), 10, max_denominator=1000))
def test_a_power_is_undone_by_its_inverse(base: Fraction, exponent: Fraction) -> None:
    assert abs(power(power(base, exponent), 1 / exponent) / base - 1) < TINY


@given(POSITIVE)
def test_root_and_logarithm(value: Fraction) -> None:
    assert abs(square_root(value) ** 2 / value - 1) < TINY
    assert float(log10(value)) == pytest.approx(math.log10(float(value)), abs=1e-12)


def test_exact_where_the_answer_is_exact() -> None:
    assert square_root(Fraction(144)) == 12
    assert square_root(Fraction(0)) == 0
    assert log10(Fraction(1000)) == 3
    assert float(PI) == math.pi


@pytest.mark.parametrize("value", [0, -1])
def test_outside_of_their_range_they_refuse(value: int) -> None:
    with pytest.raises(ValueError, match="above zero"):
        power(Fraction(value), Fraction(1, 2))
    with pytest.raises(ValueError, match="above zero"):
        log10(Fraction(value))
    with pytest.raises(ValueError, match="not below zero"):
        square_root(Fraction(-1))

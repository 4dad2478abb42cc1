"""Numbers as people type them, and as they are shown."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.number_text import decimal_text, plain_text, read_number, read_whole_number, split_number
from checker.values.refusals import NotationError


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("9600", "9600"),
        ("9,600", "9600"),
        ("1,234,567.5", "2469135/2"),
        (".5", "1/2"),
        ("5.", "5"),
        ("0.1", "1/10"),
        ("007", "7"),
        ("-12.5", "-25/2"),
        ("\u221212.5", "-25/2"),
        ("+3", "3"),
        ("3/4", "3/4"),
        ("1-1/4", "5/4"),
        ("1 1/4", "5/4"),
        ("1½", "3/2"),
        ("½", "1/2"),
        ("1/64", "1/64"),
        ("10 3/8", "83/8"),
    ],
)
def test_read(text: str, number: str) -> None:
    assert read_number(text) == Fraction(number)


@pytest.mark.parametrize(
    ("text", "words", "remedy"),
    [
        ("1_000", "underscore", "1000"),
        ("1e3", "exponent", "Write 1000."),
        ("1.5E-2", "exponent", "Write 0.015."),
        ("1e400", "exponent", "in digits"),
        ("1e-400", "exponent", "in digits"),
        ("nan", "not a number", "unknown"),
        ("-inf", "not a number", "unknown"),
        (".inf", "not a number", "unknown"),
        ("Infinity", "not a number", "unknown"),
        ("0x10", "not a decimal number", "digits"),
        ("9,60", "comma", "9.6"),
        ("0,500", "comma", "9.6"),
        ("9,600,50", "comma", "9.6"),
        ("1.2.3", "not one number", "one number"),
        ("9 600", "space", "9,600"),
        ("120/240", "two numbers", "one number"),
        ("1/0", "two numbers", "fraction"),
        ("5/4", "two numbers", "1-1/4"),
        ("4/4", "two numbers", "1-1/4"),
        ("0/4", "two numbers", "1-1/4"),
        ("1/65", "two numbers", "1-1/4"),
        ("1e12", "exponent", "Write 1000000000000."),
        ("1e13", "exponent", "in digits"),
        ("ten", "does not begin with a number", "digits"),
        ("\uff15", "does not begin with a number", "digits"),
        ("\u0665", "does not begin with a number", "digits"),
        ("5 ft", "not a number alone", "without a unit"),
        ("", "Nothing is written", "unknown"),
        ("9" * 5000, "too long", "alone"),
    ],
)
def test_refuse(text: str, words: str, remedy: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_number(text)
    assert words in refused.value.sentence
    assert remedy in refused.value.remedy


def test_counts_are_whole() -> None:
    assert read_whole_number("3") == 3
    for text in ("2.5", "-1", "1/2"):
        with pytest.raises(NotationError, match="not a count"):
            read_whole_number(text)


def test_a_fraction_is_read_only_where_it_is_usual() -> None:
    assert split_number("1/2 hp") == (Fraction(1, 2), "hp")
    with pytest.raises(NotationError, match="two numbers"):
        split_number("1/2 V", fractions=False)


@pytest.mark.parametrize(
    ("number", "text"),
    [
        ("0", "0"),
        ("200", "200"),
        ("9999", "9999"),
        ("10000", "10,000"),
        ("1234567", "1,234,567"),
        ("41.25", "41.25"),
        ("125/3", "41.67"),
        ("1/3", "0.3333"),
        ("2/30000", "0.00006667"),
        ("99.9999", "100"),
        ("30000.25", "30,000.25"),
        ("100000/7", "14,286"),
        ("-125/3", "-41.67"),
        ("-1/3", "-0.3333"),
        ("0.12345", "0.1235"),
    ],
)
def test_shown(number: str, text: str) -> None:
    assert plain_text(Fraction(number)) == text


@given(st.fractions(max_denominator=10**6))
def test_what_is_shown_is_close_and_can_be_read_back(number: Fraction) -> None:
    shown = read_number(plain_text(number))
    assert abs(shown - number) <= abs(number) / 2000
    if (number * 1000).denominator == 1:
        assert shown == number


@given(st.fractions(max_denominator=1000), st.fractions(max_denominator=1000), st.integers(0, 12))
def test_rounding_keeps_the_order(first: Fraction, second: Fraction, decimals: int) -> None:
    low, high = sorted((first, second))
    assert read_number(decimal_text(low, decimals)) <= read_number(decimal_text(high, decimals))
    assert abs(read_number(decimal_text(low, decimals)) - low) <= Fraction(1, 2 * 10**decimals)


@given(st.integers(0, 10**15), st.integers(0, 6))
def test_reading_is_exact(digits: int, decimals: int) -> None:
    number = Fraction(digits, 10**decimals)
    whole, part = divmod(digits, 10**decimals)
    text = f"{whole}.{part:0{decimals}d}" if decimals else str(whole)
    assert read_number(text) == number
    assert read_number(f"{whole:,}" + text[len(str(whole)) :]) == number

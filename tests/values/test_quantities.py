"""Quantities: what people type, what it must mean, and how it is shown."""

import re
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from checker.values.kinds import KINDS, kind
from checker.values.quantities import NotationError, Quantity, read_quantity, show, show_pair
from checker.values.refusals import LONGEST_TEXT
from tests.values.reading import read_or_none
from tests.values.typed_quantities import ACCEPTED, REFUSED


@pytest.mark.parametrize(("text", "name", "number", "unit"), ACCEPTED)
def test_accepted(text: str, name: str, number: str, unit: str) -> None:
    assert read_quantity(text, name) == Quantity(Fraction(number), name, unit)


@pytest.mark.parametrize(("text", "name", "words", "help_words"), REFUSED)
def test_refused(text: str, name: str, words: str, help_words: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_quantity(text, name)
    error = refused.value
    assert re.search(words, error.sentence) or words in error.sentence
    assert help_words in f"{error.remedy} {error.near}"
    assert error.sentence.endswith(".")
    assert error.remedy.endswith(".")
    assert "\n" not in str(error)


def test_the_corpus_is_large_and_touches_every_kind() -> None:
    assert len({(text, name) for text, name, *_ in ACCEPTED}) == len(ACCEPTED) >= 120
    assert len({(text, name) for text, name, *_ in REFUSED}) == len(REFUSED) >= 60
    assert {name for _, name, *_ in ACCEPTED} == set(KINDS)


@pytest.mark.parametrize(("text", "name"), [(text, name) for text, name, *_ in ACCEPTED])
def test_what_was_read_is_shown_so_that_it_reads_the_same(text: str, name: str) -> None:
    quantity = read_quantity(text, name)
    shown = show(quantity.number, name, quantity.unit)
    again = read_quantity(shown, name)
    assert abs(again.number - quantity.number) <= abs(quantity.number) / 2000


@pytest.mark.parametrize(
    ("number", "name", "unit", "text"),
    [
        ("200", "load_current", None, "200 A"),
        ("9600", "fault_current", None, "9.6 kA"),
        ("9600", "fault_current", "A", "9600 A"),
        ("22000", "fault_current", "A", "22,000 A"),
        ("10000", "fault_current", "kAIC", "10 kAIC"),
        ("125/3", "load_current", "A", "41.67 A"),
        ("22000", "active_power", None, "22 kW"),
        ("9600", "active_power", "W", "9600 W"),
        ("0.8", "ratio", None, "80 %"),
        ("0.8", "ratio", "", "0.8"),
        ("4/5", "plain_number", None, "0.8"),
        ("4", "length", None, "4 ft"),
        ("5.5", "length", None, "5 ft 6 in"),
        ("5.5", "length", "ft in", "5 ft 6 in"),
        ("5.5", "length", "ft", "5.5 ft"),
        ("5.5", "length", "in", "66 in"),
        ("16/3", "length", "ft", "5 ft 4 in"),
        ("5/48", "length", "in", "1-1/4 in"),
        ("1/16", "length", None, "3/4 in"),
        ("1/4", "length", None, "3 in"),
        ("0", "length", None, "0 ft"),
        ("-5.5", "length", None, "-5 ft 6 in"),
        ("22.3", "length", "ft", "22.3 ft"),
        ("22.3", "length", None, "22.3 ft"),
        ("1/7", "length", "in", "1.714 in"),
        ("3", "length", "m", "0.9144 m"),
        ("100", "temperature", "°F", "212 °F"),
        ("100", "temperature", "F", "212 °F"),
        ("75", "temperature", None, "75 °C"),
        ("2592000", "duration", "d", "30 d"),
        ("7", "pressure", "psi", "0.2529 psi"),
    ],
)
def test_shown(number: str, name: str, unit: str | None, text: str) -> None:
    assert show(Fraction(number), name, unit) == text


@pytest.mark.parametrize(
    ("first", "second", "name", "unit", "texts"),
    [
        ("100", "100.0004", "load_current", "A", ("100 A", "100.0004 A")),
        ("125/3", "41.67", "load_current", "A", ("41.667 A", "41.67 A")),
        ("125/3", "41.6", "load_current", "A", ("41.67 A", "41.6 A")),
        ("100", "200", "load_current", None, ("100 A", "200 A")),
        ("100", "100", "load_current", None, ("100 A", "100 A")),
        ("1/3", "1/3", "load_current", None, ("0.3333 A", "0.3333 A")),
        ("9999.99999", "10000", "fault_current", "A", ("9999.99999 A", "10,000 A")),
        ("5.5", "5.5001", "length", None, ("5.5 ft", "5.5001 ft")),
        ("5.5", "6", "length", None, ("5 ft 6 in", "6 ft")),
        ("0.8", "0.80001", "ratio", "%", ("80 %", "80.001 %")),
    ],
)
def test_two_numbers_side_by_side(first: str, second: str, name: str, unit: str | None, texts: tuple[str, str]) -> None:
    assert show_pair(Fraction(first), Fraction(second), name, unit) == texts


SHOWN_NUMBERS = st.fractions(-(10**6), 10**6, max_denominator=10**9)
UNITS = st.sampled_from([(name, symbol) for name, measure in KINDS.items() for symbol in (None, *measure.symbols)])


@given(SHOWN_NUMBERS, SHOWN_NUMBERS, UNITS)
def test_a_pair_looks_as_different_as_it_is(first: Fraction, second: Fraction, unit: tuple[str, str | None]) -> None:
    # A bare number above 1 is shown, but not read, where a percentage is wanted.
    assume(unit != ("ratio", ""))
    name, symbol = unit
    texts = show_pair(first, second, name, symbol)
    low, high = (read_quantity(text, name).number for text in texts)
    assert (low < high, low == high) == (first < second, first == second)
    assert (texts[0] == texts[1]) is (first == second)


@given(SHOWN_NUMBERS, st.sampled_from([Fraction(1, 10**4), Fraction(1, 10**9), Fraction(-1, 10**12)]), UNITS)
def test_a_close_pair_looks_different_too(number: Fraction, step: Fraction, unit: tuple[str, str | None]) -> None:
    assume(unit != ("ratio", ""))
    name, symbol = unit
    low, high = (read_quantity(text, name).number for text in show_pair(number, number + step, name, symbol))
    assert (low < high) is (step > 0)


@given(st.integers(-20_000, 20_000 * 16))
def test_every_length_on_a_tape_is_shown_exactly(sixteenths: int) -> None:
    length = Fraction(sixteenths, 12 * 16)
    for unit in (None, "ft in", "in"):
        assert read_quantity(show(length, "length", unit), "length").number == length


@given(st.integers(1, 2000))
def test_feet_and_inches_agree_exactly(feet: int) -> None:
    assert read_quantity(f"{feet} ft", "length").number == read_quantity(f"{feet * 12} in", "length").number
    assert read_quantity(f"{feet} in", "length").number == read_quantity(f"{feet * 25.4:.1f} mm", "length").number


@given(st.text(max_size=LONGEST_TEXT + 5), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_in_a_sentence(text: str, name: str) -> None:
    quantity = read_or_none(lambda typed: read_quantity(typed, name), text)
    assert quantity is None or quantity.unit == "ft in" or kind(name).unit(quantity.unit) is not None


TYPING = st.text(alphabet="0123456789.,/-+'\" eE_kKmMAVWftinhpC%()", max_size=12)


@given(TYPING, st.sampled_from(sorted(KINDS)))
def test_any_slip_of_the_keyboard_is_read_or_refused_in_a_sentence(text: str, name: str) -> None:
    quantity = read_or_none(lambda typed: read_quantity(typed, name), text)
    assert quantity is None or any(digit in text for digit in "0123456789")


def test_kinds_and_units_that_do_not_exist_are_named() -> None:
    with pytest.raises(KeyError, match="nearest: length"):
        read_quantity("5 ft", "lenght")
    with pytest.raises(KeyError, match="nearest: length"):
        show(Fraction(5), "lenght")
    with pytest.raises(KeyError, match="psi is no unit of length"):
        show(Fraction(5), "length", "psi")

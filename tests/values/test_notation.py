"""Ways of writing what is possible."""

from collections.abc import Callable
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.dates import day_number, read_date
from checker.values.notation import NotationError, ReadOne, nearest, read_possible
from checker.values.number_text import read_whole_number
from checker.values.possible import Possible, Span, between, exactly, number, numbers, one_of
from checker.values.quantities import read_quantity
from checker.values.refusals import quoted
from checker.values.voltage_systems import read_system
from checker.values.wire_sizes import read_wire_size
from tests.values.reading import read_or_none


def quantity(kind: str) -> ReadOne:
    return lambda text: read_quantity(text, kind).number


def choice(*names: str) -> ReadOne:
    def read(text: str) -> str:
        if text not in names:
            raise NotationError(f"{quoted(text)} is not a choice here.", f"Write {' or '.join(names)}.")
        return text

    return read


def flag(text: str) -> bool:
    if text not in ("yes", "no"):
        raise NotationError(f"{quoted(text)} is not yes or no.", "Write yes or no.")
    return text == "yes"


FAULT = quantity("fault_current")
LENGTH = quantity("length")
TEMPERATURE = quantity("temperature")
RATIO = quantity("ratio")
NEUTRAL = choice("solid", "switched", "overlapping")


def whole(text: str) -> Fraction:
    return Fraction(read_whole_number(text))


def wire(text: str) -> Fraction:
    return read_wire_size(text).circular_mils


def day(text: str) -> Fraction:
    return day_number(read_date(text))


def system(text: str) -> str:
    return read_system(text).name


def above(low: int) -> Possible:
    return Possible(spans=(Span(Fraction(low), None, low_open=True),))


def below(high: int) -> Possible:
    return Possible(spans=(Span(None, Fraction(high), high_open=True),))


ACCEPTED: list[tuple[str, ReadOne, Possible]] = [
    ("9.6 kA", FAULT, number(9600)),
    ("9,600 A", FAULT, number(9600)),
    ("8 kA to 12 kA", FAULT, between(8000, 12_000)),
    ("8 to 12 kA", FAULT, between(8000, 12_000)),
    ("8 TO 12 kA", FAULT, between(8000, 12_000)),
    ("9,600 A to 12 kA", FAULT, between(9600, 12_000)),
    ("8 kA .. 12 kA", FAULT, between(8000, 12_000)),
    ("from 8 to 12 kA", FAULT, between(8000, 12_000)),
    ("between 8 and 12 kA", FAULT, between(8000, 12_000)),
    ("8 kA to 8 kA", FAULT, number(8000)),
    ("at least 10 kA", FAULT, between(10_000, None)),
    (">= 10 kA", FAULT, between(10_000, None)),
    (">=10kA", FAULT, between(10_000, None)),
    ("≥ 10 kA", FAULT, between(10_000, None)),
    ("not less than 10 kA", FAULT, between(10_000, None)),
    ("10 kA or more", FAULT, between(10_000, None)),
    ("at most 10 kA", FAULT, between(None, 10_000)),
    ("<= 10 kA", FAULT, between(None, 10_000)),
    ("≤10 kA", FAULT, between(None, 10_000)),
    ("up to 10 kA", FAULT, between(None, 10_000)),
    ("no more than 10 kA", FAULT, between(None, 10_000)),
    ("10 kA or less", FAULT, between(None, 10_000)),
    ("more than 10 kA", FAULT, above(10_000)),
    ("> 10 kA", FAULT, above(10_000)),
    (">10kA", FAULT, above(10_000)),
    ("less than 10 kA", FAULT, below(10_000)),
    ("< 10 kA", FAULT, below(10_000)),
    ("Less Than 10 kA", FAULT, below(10_000)),
    ("9 kA +/- 10 %", FAULT, between(8100, 9900)),
    ("9 kA +/-10%", FAULT, between(8100, 9900)),
    ("9 kA ± 0.5 kA", FAULT, between(8500, 9500)),
    ("9 ± 0.5 kA", FAULT, between(8500, 9500)),
    ("9 kA +- 500 A", FAULT, between(8500, 9500)),
    ("9 kA plus or minus 10 %", FAULT, between(8100, 9900)),
    ("10 kA or 14 kA", FAULT, numbers([10_000, 14_000])),
    ("10 or 14 kA", FAULT, numbers([10_000, 14_000])),
    ("10, 14 or 22 kA", FAULT, numbers([10_000, 14_000, 22_000])),
    ("10 kA, 14 kA, or 22 kA", FAULT, numbers([10_000, 14_000, 22_000])),
    ("9,600 A or 10,400 A", FAULT, numbers([9600, 10_400])),
    ("8 kA or 10 to 12 kA", FAULT, number(8000).union(between(10_000, 12_000))),
    ("at most 8 kA or at least 12 kA", FAULT, between(None, 8000).union(between(12_000, None))),
    ("10 ft +/- 6 in", LENGTH, between(Fraction(19, 2), Fraction(21, 2))),
    ("10' ± 6\"", LENGTH, between(Fraction(19, 2), Fraction(21, 2))),
    ("10 ft +/- 1 ft 6 in", LENGTH, between(Fraction(17, 2), Fraction(23, 2))),
    ("at most 5 ft", LENGTH, between(None, 5)),
    ("5' to 6'-6\"", LENGTH, between(5, Fraction(13, 2))),
    ("1/2 to 3/4 in", LENGTH, between(Fraction(1, 24), Fraction(1, 16))),
    ("1/2, 3/4 or 1 in", LENGTH, numbers([Fraction(1, 24), Fraction(1, 16), Fraction(1, 12)])),
    ("77 F +/- 18 F", TEMPERATURE, between(15, 35)),
    ("-20 to 40 C", TEMPERATURE, between(-20, 40)),
    ("-40 F to 104 F", TEMPERATURE, between(-40, 40)),
    ("80 to 90 %", RATIO, between(Fraction(4, 5), Fraction(9, 10))),
    ("0.5 to 1 %", RATIO, between(Fraction(1, 200), Fraction(1, 100))),
    ("0.8 to 0.9", RATIO, between(Fraction(4, 5), Fraction(9, 10))),
    ("2", whole, number(2)),
    ("2 or 3", whole, numbers([2, 3])),
    ("2 to 4", whole, between(2, 4)),
    ("3 AWG or 2 AWG", wire, numbers([52_620, 66_360])),
    ("3 or 2 AWG", wire, numbers([52_620, 66_360])),
    ("#3 or #2", wire, numbers([52_620, 66_360])),
    ("1/0 or 2/0 AWG", wire, numbers([105_600, 133_100])),
    ("at least 3 AWG", wire, between(52_620, None)),
    ("3 AWG to 1 AWG", wire, between(52_620, 83_690)),
    ("2026-03-14", day, number(day_number(date(2026, 3, 14)))),
    ("2026-03-01 to 2026-03-31", day, between(day_number(date(2026, 3, 1)), day_number(date(2026, 3, 31)))),
    ("solid", NEUTRAL, exactly("solid")),
    ("solid or switched", NEUTRAL, one_of(["solid", "switched"])),
    ("solid, switched or overlapping", NEUTRAL, one_of(["solid", "switched", "overlapping"])),
    ("solid, switched, or overlapping", NEUTRAL, one_of(["solid", "switched", "overlapping"])),
    ("1 or 3R", choice("1", "3R", "4X"), one_of(["1", "3R"])),
    ("yes", flag, exactly(True)),
    ("yes or no", flag, one_of([True, False])),
    (
        "120/240 V, 1-phase, 3-wire or 208Y/120",
        system,
        one_of(["120/240 V 1-phase 3-wire", "208Y/120 V 3-phase 4-wire"]),
    ),
]

REFUSED: list[tuple[str, ReadOne, str, str]] = [
    ("unknown", FAULT, "stands alone", "unknown"),
    ("Unknown", FAULT, "stands alone", "unknown"),
    ("10 kA or unknown", FAULT, "stands alone", "what is possible"),
    ("about 9 kA", FAULT, "how far off", "Write 9 kA +/- 10 %, or {value: 9 kA, per: assumed}."),
    ("~9 kA", FAULT, "how far off", "per: assumed"),
    ("approx. 9 kA", FAULT, "how far off", "per: assumed"),
    ("8 kA or about 9 kA", FAULT, "how far off", "9 kA +/- 10 %"),
    ("12 kA to 8 kA", FAULT, "runs backwards", "Write 8 kA to 12 kA."),
    ("12 to 8 kA", FAULT, "runs backwards", "Write 8 kA to 12 kA."),
    ("1 AWG to 3 AWG", wire, "runs backwards", "Write 3 AWG to 1 AWG."),
    ("8 to 12", FAULT, "no unit", "8 kA"),
    ("8 kA to 12", FAULT, "no unit", "12 kA"),
    ("8 or 10 to 12 kA", FAULT, "8 has no unit", "8 kA"),
    ("5 to 6 ft 6 in", LENGTH, "5 has no unit", "5 ft"),
    ("8 kA to 10 kA to 12 kA", FAULT, "not one range", "8 kA to 12 kA"),
    ("at least 8 kA to 12 kA", FAULT, "not one bound", "8 kA to 12 kA"),
    ("at least 8 kA and at most 12 kA", FAULT, "not one bound", "8 kA to 12 kA"),
    ("at least at least 8 kA", FAULT, "not one bound", "at least 8 kA"),
    ("less than", FAULT, "not one bound", "at least 8 kA"),
    ("at least 9 kA +/- 10 %", FAULT, "not one bound", "at least 8 kA"),
    ("at least 10", FAULT, "10 has no unit", "10 kA"),
    ("9 kA +/- 1", FAULT, "1 has no unit", "1 kA"),
    ("9 kA +/-", FAULT, "not one tolerance", "9 kA +/- 10 %"),
    ("9 kA +/- 1 kA +/- 10 %", FAULT, "not one tolerance", "9 kA +/- 10 %"),
    ("9 kA +10 % -5 %", FAULT, "not read", "8 kA to 12 kA"),
    ("9 kA +/- -1 kA", FAULT, "below zero", "0.5 kA"),
    ("80 % +/- 5 %", RATIO, "part of the value or as points", "75 % to 85 %"),
    ("0.8 +/- 5 %", RATIO, "part of the value or as points", "75 % to 85 %"),
    ("77 F +/- 10 %", TEMPERATURE, "percentage of a temperature", "degrees"),
    ("40 C +/- 10 %", TEMPERATURE, "percentage of a temperature", "degrees"),
    ("solid to switched", NEUTRAL, "needs numbers", "or between"),
    ("at least solid", NEUTRAL, "needs numbers", "or between"),
    ("solid or swiched", NEUTRAL, "swiched is not a choice", "switched"),
    ("8-12 kA", FAULT, "not one quantity", "Write 8 to 12 kA."),
    ("TBD", FAULT, "leaves the value open", "Write unknown."),
    ("?", FAULT, "leaves the value open", "Write unknown."),
    ("n/a", FAULT, "not there or not known", "none"),
    ("8 kA or N/A", FAULT, "not there or not known", "none"),
    ("8 kA to", FAULT, "not a unit", "kA"),
    ("8 kA or", FAULT, "not a unit", "kA"),
    ("", FAULT, "Nothing is written", "unknown"),
]


@pytest.mark.parametrize(("text", "read_one", "possible"), ACCEPTED)
def test_accepted(text: str, read_one: ReadOne, possible: Possible) -> None:
    assert read_possible(text, read_one) == possible


@pytest.mark.parametrize(("text", "read_one", "words", "remedy"), REFUSED)
def test_refused(text: str, read_one: ReadOne, words: str, remedy: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_possible(text, read_one)
    assert words in refused.value.sentence
    assert remedy in refused.value.remedy
    assert refused.value.sentence.endswith(".")


def test_none_is_left_to_the_reader_of_one_value() -> None:
    assert read_possible("none", choice("none")) == exactly("none")


ENDS = st.integers(0, 10**6)


@given(ENDS, ENDS)
def test_a_range_holds_what_lies_between_its_ends(first: int, second: int) -> None:
    low, high = sorted((first, second))
    assert read_possible(f"{low} A to {high} A", FAULT) == between(low, high)
    assert read_possible(f"{low} to {high:,} A", FAULT) == between(low, high)
    if low < high:
        with pytest.raises(NotationError, match="runs backwards"):
            read_possible(f"{high} A to {low} A", FAULT)


@given(st.integers(-100, 300), st.integers(0, 200))
def test_a_tolerance_in_either_degree_is_a_distance(middle: int, width: int) -> None:
    written = read_possible(f"{middle} F +/- {width} F", TEMPERATURE)
    ends = (read_quantity(f"{middle + sign * width} F", "temperature").number for sign in (-1, 1))
    assert written == between(*ends)


@given(ENDS, st.integers(0, 100))
def test_a_tolerance_in_per_cent_is_a_part_of_the_value(middle: int, percent: int) -> None:
    low, high = (Fraction(middle * (100 + sign * percent), 100) for sign in (-1, 1))
    assert read_possible(f"{middle} A ± {percent} %", FAULT) == between(low, high)


@given(st.lists(ENDS, min_size=1, max_size=6))
def test_alternatives_are_the_numbers_that_are_listed(values: list[int]) -> None:
    *first, last = values
    text = f"{', '.join(f'{value} A' for value in first)} or {last} A" if first else f"{last} A"
    assert read_possible(text, FAULT) == numbers(values)


WORDS = st.sampled_from(
    [
        "8",
        "8 kA",
        "12 kA",
        "to",
        "or",
        ",",
        "at least",
        "<",
        "+/-",
        "±",
        "10 %",
        "about",
        "unknown",
        "and",
        "..",
        "-",
        "6 in",
    ]
)


@pytest.mark.parametrize("read_one", [FAULT, LENGTH, TEMPERATURE, RATIO, whole, wire, day, NEUTRAL])
@given(parts=st.lists(WORDS, max_size=6).map(" ".join) | st.text(max_size=20))
def test_any_text_is_read_or_refused_in_a_sentence(read_one: Callable[[str], Fraction | str], parts: str) -> None:
    possible = read_or_none(lambda text: read_possible(text, read_one), parts)
    assert possible is None or (possible.has_value and not possible.absent)


def test_the_nearest_name_is_offered_here_too() -> None:
    assert nearest("swiched", ["solid", "switched"]) == "switched"

"""Wire sizes against the gauge's own formula and NEC Chapter 9 Table 8."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.refusals import NotationError
from checker.values.wire_sizes import SIZES, read_wire_size, show_wire_size
from tests.values.reading import read_or_none

# NEC Chapter 9 Table 8, area in circular mils, typed a second time from another copy of the table.
TABLE_8 = {
    "14 AWG": 4110, "12 AWG": 6530, "10 AWG": 10380, "8 AWG": 16510, "6 AWG": 26240, "4 AWG": 41740, "3 AWG": 52620,
    "2 AWG": 66360, "1 AWG": 83690, "1/0 AWG": 105600, "2/0 AWG": 133100, "3/0 AWG": 167800, "4/0 AWG": 211600,
    "250 kcmil": 250000, "300 kcmil": 300000, "350 kcmil": 350000, "400 kcmil": 400000, "500 kcmil": 500000,
    "600 kcmil": 600000, "700 kcmil": 700000, "750 kcmil": 750000, "800 kcmil": 800000, "900 kcmil": 900000,
    "1000 kcmil": 1000000,
}  # fmt: skip


@pytest.mark.parametrize(("name", "area"), TABLE_8.items())
def test_areas_of_the_table(name: str, area: int) -> None:
    assert read_wire_size(name).circular_mils == area


def test_areas_follow_from_the_gauge() -> None:
    """ASTM B258: the diameter is 5 mil x 92 ** ((36 - n) / 39), so the square is the area in circular mils."""
    gauges = {name.removesuffix(" AWG"): size for name, size in SIZES.items() if name.endswith("AWG")}
    assert len(gauges) == 15
    for gauge, size in gauges.items():
        steps = 36 + int(gauge[0]) - 1 if gauge.endswith("/0") else 36 - int(gauge)
        area = (5 * 92 ** (steps / 39)) ** 2
        # Table 8 prints four digits, the smallest sizes three; the gauge rounds the diameter first.
        assert float(size.circular_mils) == pytest.approx(area, rel=0.004)


def test_sizes_are_in_order_of_area() -> None:
    sizes = list(SIZES.values())
    assert all(smaller < larger for smaller, larger in pairwise(sizes))
    assert sizes[0].name == "18 AWG"
    assert sizes[-1].name == "2000 kcmil"
    assert max(read_wire_size("4/0"), read_wire_size("250 kcmil")).name == "250 kcmil"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("3 AWG", "3 AWG"),
        ("3AWG", "3 AWG"),
        ("3 awg", "3 AWG"),
        ("#3", "3 AWG"),
        ("# 3", "3 AWG"),
        ("#3 AWG", "3 AWG"),
        ("No. 3", "3 AWG"),
        ("No 3", "3 AWG"),
        ("no.3", "3 AWG"),
        ("AWG 3", "3 AWG"),
        ("AWG #3", "3 AWG"),
        ("3 ga.", "3 AWG"),
        ("12 gauge", "12 AWG"),
        ("18 AWG", "18 AWG"),
        ("#1/0", "1/0 AWG"),
        ("1/0", "1/0 AWG"),
        ("4/0", "4/0 AWG"),
        ("4/0 AWG", "4/0 AWG"),
        ("0 AWG", "1/0 AWG"),
        ("#00", "2/0 AWG"),
        ("0000 AWG", "4/0 AWG"),
        ("350 kcmil", "350 kcmil"),
        ("350 KCMIL", "350 kcmil"),
        ("350 MCM", "350 kcmil"),
        ("250kcmil", "250 kcmil"),
        ("1,000 kcmil", "1000 kcmil"),
    ],
)
def test_accepted(text: str, name: str) -> None:
    assert read_wire_size(text).name == name


@pytest.mark.parametrize(
    ("text", "words", "help_words"),
    [
        ("3", "3 has no unit", "Write 3 AWG."),
        ("350", "350 has no unit", "Write 350 kcmil."),
        ("0", "0 has no unit", "1/0 AWG"),
        ("000", "no unit", "3/0 AWG"),
        ("5 AWG", "not a size", "4 AWG"),
        ("36", "not a size", "18 AWG"),
        ("305 kcmil", "not a size", "300 kcmil"),
        ("100 kcmil", "not a size", "in AWG"),
        ("250 AWG", "not a wire size", "250 kcmil"),
        ("5/0", "not a wire size", "1/0 AWG"),
        ("35 mm2", "metric", "AWG or kcmil"),
        ("35 mm²", "metric", "AWG or kcmil"),
        ("three", "not a wire size", "3 AWG"),
        ("", "Nothing is written", "unknown"),
    ],
)
def test_refused(text: str, words: str, help_words: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_wire_size(text)
    assert words in refused.value.sentence
    assert help_words in f"{refused.value.remedy} {refused.value.near}"


@pytest.mark.parametrize("name", SIZES)
def test_a_size_is_shown_by_its_name(name: str) -> None:
    assert show_wire_size(read_wire_size(name).circular_mils) == name


def test_an_area_between_sizes_is_shown_as_it_is() -> None:
    assert show_wire_size(Fraction(166_700)) == "166.7 kcmil"


@given(st.text(alphabet="0123456789/#. ,AWGkcmilNo", max_size=14) | st.text(max_size=20))
def test_any_text_is_read_or_refused_in_a_sentence(text: str) -> None:
    size = read_or_none(read_wire_size, text)
    assert size is None or SIZES[size.name] == size

"""Patterns for editors: they take whatever the program reads, and refuse what they can tell is wrong."""

import re

import pytest

from checker.catalog import notation_patterns as patterns
from checker.values.kinds import KINDS
from tests.values.typed_quantities import ACCEPTED, REFUSED

QUANTITIES = {name: re.compile(patterns.quantity(kind, none=False)) for name, kind in KINDS.items()}
# What only arithmetic, or counting, can tell.
BEYOND_PATTERNS = {"5 ft 14 in", "5.5 ft 6 in", "6 in 5 ft", "1 h 75 min", "80", "1.25", "99.5"}


@pytest.mark.parametrize(("text", "kind"), [(text, kind) for text, kind, *_ in ACCEPTED])
def test_quantities_as_typed_are_taken(text: str, kind: str) -> None:
    assert QUANTITIES[kind].search(text)


@pytest.mark.parametrize(
    ("text", "kind"),
    [(text, kind) for text, kind, *_ in REFUSED if text not in BEYOND_PATTERNS and len(text) < 100],
)
def test_what_is_no_such_quantity_is_refused(text: str, kind: str) -> None:
    assert not QUANTITIES[kind].search(text)


@pytest.mark.parametrize(
    "text",
    [
        *("8 kA to 12 kA", "8 to 12 kA", "8..12 kA", "between 8 and 12 kA", "from 8 kA to 12 kA"),
        *("at least 10 kA", ">= 10 kA", "<=10 kA", "≥ 10 kA", "up to 10 kA", "Not More Than 10 kA", "10 kA or more"),
        *("9 kA +/- 10 %", "9 kA ± 0.5 kA", "9 ± 0.5 kA", "9 kA +- 10%", "9 kA plus or minus 5 percent"),
        *("8 kA or 10 kA", "8 or 10 kA", "8, 9 or 10 kA", "8 kA, 9 kA or at least 10 kA", "8,000 to 9,600 A"),
    ],
)
def test_what_is_possible_is_taken(text: str) -> None:
    assert QUANTITIES["fault_current"].search(text)


@pytest.mark.parametrize("text", ["none", "none or 10 kA", "10 kA or none", "10 or 12 kA"])
def test_none_is_taken_where_it_can_stand(text: str) -> None:
    assert re.search(patterns.quantity(KINDS["fault_current"], none=True), text)
    assert ("none" in text) == (not QUANTITIES["fault_current"].search(text))


@pytest.mark.parametrize(
    "text", ["8 to 12", "10", "kA", "10 kA or", "or 10 kA", "10 kA kA", "NaN kA", "1e3 A", "10 kVA", ""]
)
def test_what_is_not_possible_is_refused(text: str) -> None:
    assert not QUANTITIES["fault_current"].search(text)


def test_capitals_are_told_apart_only_where_they_mean_something_else() -> None:
    assert QUANTITIES["active_power"].search("2 MW")
    assert not QUANTITIES["active_power"].search("2 mW")
    assert QUANTITIES["load_current"].search("30 mA")
    assert not QUANTITIES["load_current"].search("30 MA")
    assert QUANTITIES["active_power"].search("22 KW")


@pytest.mark.parametrize(
    "text",
    [
        *(
            "3 AWG copper",
            "#3 Cu THWN-2",
            "No. 3",
            "#1/0",
            "1/0",
            "4/0 aluminum bare",
            "2 x 350 kcmil Cu",
            "2x350 kcmil",
        ),
        *("(2) 3/0 Cu XHHW-2", "2 sets of 500 kcmil Cu THHN/THWN-2", "1,000 kcmil Cu", "copper 4 AWG", "bare #4 Cu"),
        *("4 AWG Cu, bare", "3 AWG CU.", "3 AWG copper or 2 AWG copper", "3 or 4 AWG copper"),
    ],
)
def test_conductors_are_taken(text: str) -> None:
    assert re.search(patterns.conductor(), text)


@pytest.mark.parametrize("text", ["3", "3 copper", "copper", "", "35 mm2 Cu", "350"])
def test_conductors_without_a_size_are_refused(text: str) -> None:
    assert not re.search(patterns.conductor(), text)


@pytest.mark.parametrize("text", ["3 AWG", "#3", "No. 3", "4/0", "350 kcmil", "3 or 4 AWG", "at least 1/0 AWG"])
def test_wire_sizes_are_taken(text: str) -> None:
    assert re.search(patterns.wire_size(none=False), text)


@pytest.mark.parametrize("text", ["3", "350", "35 mm2", "copper"])
def test_what_is_no_wire_size_is_refused(text: str) -> None:
    assert not re.search(patterns.wire_size(none=False), text)


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        *(
            ("solid", True),
            ("solid or switched", True),
            ("solid, switched or overlapping", True),
            ("solid OR switched", True),
        ),
        *(("solid, switched", False), ("solid or", False), ("Solid", False), ("solid switched", False), ("", False)),
    ],
)
def test_choices_with_or_between_them(text: str, taken: bool) -> None:
    assert bool(re.search(patterns.words_with_or(["solid", "switched", "overlapping"]), text)) is taken


@pytest.mark.parametrize(
    ("text", "exact", "several"),
    [
        ("P1", True, True),
        ("P1 or P2", False, True),
        ("unknown", False, False),
        ("P1 or unknown", False, False),
        ("1P", False, False),
    ],
)
def test_tags(text: str, exact: bool, several: bool) -> None:
    assert bool(re.search(patterns.one_tag(), text)) is exact
    assert bool(re.search(patterns.tags(none=False), text)) is several


@pytest.mark.parametrize(
    ("text", "exact", "several"),
    [
        *(("P1/7", True, True), ("P1/main", True, True), (" GEN1/1 ", True, True), ("P1/7 or P1/9", False, True)),
        *(("P1", False, False), ("P1/", False, False), ("/7", False, False), ("P1/7/2", False, False)),
        *(("P1 / 7", False, False), ("unknown", False, False), ("none", False, False), ("P1/7, P1/9", False, False)),
    ],
)
def test_ways(text: str, exact: bool, several: bool) -> None:
    assert bool(re.search(patterns.one_way(), text)) is exact
    assert bool(re.search(patterns.ways(none=False), text)) is several
    assert bool(re.search(patterns.ways(none=True), text)) is (several or text == "none")


@pytest.mark.parametrize(
    ("text", "taken"), [("2024-03-11", True), ("3/11/2024", False), ("2024-03-11 to 2024-04-01", True)]
)
def test_dates(text: str, taken: bool) -> None:
    assert bool(re.search(patterns.date(none=False), text)) is taken


@pytest.mark.parametrize(
    ("text", "taken"), [("2", True), ("2 or 4", True), ("1 to 3", True), ("two", False), ("2 A", False)]
)
def test_counts(text: str, taken: bool) -> None:
    assert bool(re.search(patterns.count(none=False), text)) is taken

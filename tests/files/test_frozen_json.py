"""Frozen values written as JSON: read back equal, and nothing but the listed types is ever made."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import Enum
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.files.frozen_json import Broken, FrozenCodec


class _Metal(Enum):
    COPPER = "copper"
    ALUMINUM = "aluminum"


@dataclass(frozen=True, slots=True)
class _Run:
    metal: _Metal
    sizes: tuple[Fraction, ...]
    notes: object = None


@dataclass(frozen=True, slots=True)
class _Positive:
    number: int

    def __post_init__(self) -> None:
        if self.number <= 0:
            raise ValueError("not positive")


@dataclass
class _Loose:
    number: int


CODEC = FrozenCodec((_Metal, _Run, _Positive))
_PLAIN = st.none() | st.booleans() | st.integers() | st.text(max_size=5) | st.fractions() | st.dates()
_VALUES = st.recursive(
    _PLAIN | st.sampled_from(_Metal) | st.frozensets(st.booleans() | st.text(max_size=3), max_size=4),
    lambda inner: (
        st.lists(inner, max_size=4).map(tuple)
        | st.dictionaries(st.text(max_size=3), inner, max_size=4)
        | st.builds(_Run, st.sampled_from(_Metal), st.lists(st.fractions(), max_size=3).map(tuple), inner)
    ),
    max_leaves=20,
)


def _alike(one: object, other: object) -> bool:
    """Whether two values are equal and of the same types all through; True and 1 are not."""
    if type(one) is not type(other) or one != other:
        return False
    if isinstance(one, tuple) and isinstance(other, tuple):
        return all(map(_alike, one, other))
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(map(_alike, one.values(), other.values()))
    return not isinstance(one, _Run) or not isinstance(other, _Run) or _alike(one.notes, other.notes)


@given(_VALUES)
def test_what_is_written_is_read_back_alike(value: object) -> None:
    assert _alike(CODEC.read(CODEC.written(value)), value)


@given(_VALUES)
def test_what_is_written_depends_on_the_value_alone(value: object) -> None:
    assert CODEC.written(CODEC.read(CODEC.written(value))) == CODEC.written(value)


def test_flags_and_numbers_that_compare_equal_stay_apart() -> None:
    assert [type(each) for each in CODEC.read(CODEC.written((True, 1, Fraction(1), False, 0)))] == [
        bool,
        int,
        Fraction,
        bool,
        int,
    ]


@pytest.mark.parametrize("value", [1.5, [1], {1, 2}, _Loose(1), b"a", (1, (2, object()))])
def test_other_types_are_not_written(value: object) -> None:
    with pytest.raises(TypeError):
        CODEC.written(value)


@pytest.mark.parametrize("types", [(_Loose,), (int,), (_Metal, _Metal)])
def test_only_frozen_dataclasses_and_enums_of_different_names_can_be_listed(types: tuple[type, ...]) -> None:
    with pytest.raises((TypeError, ValueError)):
        FrozenCodec(types)


def _changed(change: Callable[[dict[str, Any]], None]) -> str:
    content = json.loads(CODEC.written(_Run(_Metal.COPPER, (Fraction(3, 2),), date(2026, 3, 14))))
    change(content)
    return json.dumps(content)


_BROKEN: tuple[Callable[[dict[str, Any]], None], ...] = (
    lambda content: content.pop("types"),
    lambda content: content["types"].__setitem__(0, "Popen"),
    lambda content: content["types"].__setitem__(0, "_Loose"),
    lambda content: content["texts"].append(1.5),
    lambda content: content["texts"].append([1]),
    lambda content: content["texts"].__setitem__(0, "brass"),
    lambda content: content["values"].append([0, 99]),
    lambda content: content["values"].append([99, 0]),
    lambda content: content["values"].append([0]),
    lambda content: content["values"].append(7),
    lambda content: content["values"].insert(0, [0, len(content["texts"]) + 1]),
)


@pytest.mark.parametrize("change", _BROKEN)
def test_a_text_changed_in_one_place_is_broken(change: Callable[[dict[str, Any]], None]) -> None:
    with pytest.raises(Broken):
        CODEC.read(_changed(change))


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", "7", '"a"', "[" * 100_000, '{"types":[],"texts":[],"values":[]}']
)
def test_a_text_of_another_kind_is_broken(text: str) -> None:
    with pytest.raises(Broken):
        CODEC.read(text)


def test_what_a_class_refuses_is_broken() -> None:
    text = CODEC.written(_Positive(5)).replace("[5]", "[-5]", 1)
    with pytest.raises(Broken):
        CODEC.read(text)


def test_a_fraction_over_nothing_is_broken() -> None:
    text = CODEC.written(Fraction(3, 2)).replace("[3,2]", "[3,0]")
    with pytest.raises(Broken):
        CODEC.read(text)

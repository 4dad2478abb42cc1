"""Frozen values written as JSON and read back equal, without running anything that the text names.

The text lists each distinct value once, after those it is made of::

    {"types": ["tuple", "Span"], "texts": [null, "12/5"], "values": [[1, 0, 0], ...]}

A value is the place of its type in ``types`` and the places of what it holds; places count through ``texts`` and then
on through ``values``; the last is the whole. A type is looked up in the list that the program gives, never imported.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from fractions import Fraction
from typing import Any

_Make = Callable[[list[Any]], Any]
_Parts = Callable[[Any], Iterable[object]]

_PLAIN = frozenset({type(None), bool, int, str})
"""Types that stand among the texts as they are."""


class Broken(ValueError):
    """A text that no codec with these types has written."""


class FrozenCodec:
    """Writes and reads values made of the listed frozen dataclasses and enums, and of None, flags, whole numbers,
    texts, fractions, dates, tuples, frozen sets and mappings by text.
    """

    def __init__(self, types: Iterable[type]) -> None:
        listed = tuple(types)
        self._makers: Mapping[str, _Make] = {**_BUILT_IN_MAKERS, **{each.__name__: _maker(each) for each in listed}}
        self._parts: Mapping[type, _Parts] = {**_BUILT_IN_PARTS, **{each: _parts_of(each) for each in listed}}
        if len(self._makers) != len(_BUILT_IN_MAKERS) + len(listed):
            raise ValueError("two of the types have one name")

    def written(self, value: object) -> str:
        """The value as JSON. Raises TypeError for a type that is not listed."""
        writer = _Writer(self._parts)
        writer.place(value)
        return json.dumps(writer.content(), separators=(",", ":"))

    def read(self, text: str) -> Any:
        """The value that was written. Raises Broken for a text in which something is not as it is written."""
        try:
            content = json.loads(text)
            makers = [self._makers[name] for name in content["types"]]
            values: list[Any] = list(content["texts"])
            if not {type(each) for each in values} <= _PLAIN:
                raise Broken("something else stands among the texts")
            for kind, *parts in content["values"]:
                values.append(makers[kind]([values[place] for place in parts]))
            return values[-1]
        except (ValueError, TypeError, LookupError, AttributeError, ArithmeticError, RecursionError) as error:
            raise Broken(f"{type(error).__name__}: {error}") from error


class _Writer:
    """Gives each distinct value its place, texts and values counted apart until all are known."""

    def __init__(self, parts: Mapping[type, _Parts]) -> None:
        self._parts = parts
        self._types: dict[str, int] = {}
        self._texts: dict[tuple[type, object], int] = {}
        self._values: dict[tuple[int, ...], int] = {}

    def place(self, value: object) -> int:
        """The place of a value: of a text its own, of any other -1 less its own."""
        kind = type(value)
        if kind in _PLAIN:
            return self._texts.setdefault((kind, value), len(self._texts))
        if kind not in self._parts:
            raise TypeError(f"{kind.__name__} is not among the types that can be written")
        places = [self.place(part) for part in self._parts[kind](value)]
        name = self._types.setdefault(kind.__name__, len(self._types))
        return -1 - self._values.setdefault((name, *places), len(self._values))

    def content(self) -> dict[str, object]:
        """Everything that was given a place; the whole was placed last."""
        texts = len(self._texts)
        return {
            "types": list(self._types),
            "texts": [value for _, value in self._texts],
            "values": [
                [name, *(place if place >= 0 else texts - 1 - place for place in places)]
                for name, *places in self._values
            ],
        }


def _maker(kind: type) -> _Make:
    if issubclass(kind, Enum):
        return lambda parts: kind(*parts)
    if not is_dataclass(kind) or not kind.__dataclass_params__.frozen:  # type: ignore[attr-defined]
        raise TypeError(f"{kind.__name__} is neither an enum nor a frozen dataclass")
    return lambda parts: kind(*parts)


def _parts_of(kind: Any) -> _Parts:
    if issubclass(kind, Enum):
        return lambda value: (value.value,)
    names = tuple(each.name for each in fields(kind))
    return lambda value: [getattr(value, name) for name in names]


def _pairs(parts: list[Any]) -> dict[Any, Any]:
    return dict(zip(parts[::2], parts[1::2], strict=True))


def _keys_and_values(mapping: Mapping[object, object]) -> Iterator[object]:
    for key, value in mapping.items():
        yield key
        yield value


def _in_order(members: frozenset[Any]) -> list[Any]:
    """The members in an order that does not change from run to run."""
    return sorted(members, key=lambda each: (type(each).__name__, str(each)))


_BUILT_IN_MAKERS: Mapping[str, _Make] = {
    "tuple": tuple,
    "frozenset": frozenset,
    "dict": _pairs,
    "Fraction": lambda parts: Fraction(*parts),
    "date": lambda parts: date.fromordinal(*parts),
}

_BUILT_IN_PARTS: Mapping[type, _Parts] = {
    tuple: tuple,
    frozenset: _in_order,
    dict: _keys_and_values,
    Fraction: lambda value: value.as_integer_ratio(),
    date: lambda value: (value.toordinal(),),
}

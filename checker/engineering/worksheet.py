"""The steps of one calculation, as an inspector would write them on calculation paper."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """One numbered line: what quantity, how it is found, its value with unit, and where it comes from."""

    letter: str
    quantity: str
    how: str
    value: str
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Worksheet:
    """One calculation for one fact: its lines, the limits within which it is valid, and what was assumed.

    ``id`` is the fact that it gives, as it is named everywhere: ``GEN1.capacity``.
    """

    id: str
    title: str
    subject: str
    lines: tuple[Line, ...]
    limits: str
    assumptions: tuple[str, ...] = ()

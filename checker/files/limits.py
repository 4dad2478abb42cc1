"""How large a file from a stranger may be."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """Largest size of a file in bytes, nesting in levels, count of values, and length of one text in characters."""

    bytes: int = 2_000_000
    depth: int = 40
    nodes: int = 50_000
    text: int = 20_000


USUAL_LIMITS = Limits()

"""Walks through a JSON Schema, for tests of its shape."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any


def schemas(node: Any) -> Iterator[dict[str, Any]]:
    """Every schema inside one, with itself."""
    if isinstance(node, list):
        for inner in node:
            yield from schemas(inner)
    elif isinstance(node, dict):
        yield node
        for key, inner in node.items():
            if key in ("properties", "$defs"):
                for each in inner.values():
                    yield from schemas(each)
            elif key not in ("enum", "required"):
                yield from schemas(inner)

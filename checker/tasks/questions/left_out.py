"""Questions that a person left out, kept for the next run in the cache of that person: a help, never a source."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from checker.facts.known import Leaf
from checker.files.cache import digest, user_cache

_KEY = "left out"
_DIGITS = 24


def name_of(leaf: Leaf) -> str:
    """A leaf as it is kept."""
    return f"{leaf.ask.value} {leaf.subject.type} {leaf.subject.id} {leaf.name}"


def skipped_before(path: Path) -> frozenset[str]:
    """The names of what was left out in earlier runs on this file."""
    kept = user_cache().get(_entry(path), digest(_KEY))
    return frozenset((kept or "").split("\n")) - {""}


def keep_skipped(path: Path, names: Iterable[str]) -> None:
    """Keep the names for the next run."""
    user_cache().put(_entry(path), digest(_KEY), "\n".join(sorted(names)))


def _entry(path: Path) -> str:
    return f"left-out-{digest(str(path.resolve()))[:_DIGITS]}"

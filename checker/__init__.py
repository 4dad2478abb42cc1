"""Compliance checker for standby power: rules as data, applied to a site description."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.version import __version__

if TYPE_CHECKING:
    from checker.api import Finding, Library, Outcome, Problem, Review, Stage, Unreadable, review

__all__ = [
    "Finding",
    "Library",
    "Outcome",
    "Problem",
    "Review",
    "Stage",
    "Unreadable",
    "__version__",
    "review",
]


def __getattr__(name: str) -> Any:
    """What other programs call, imported when it is asked for: the command line needs none of it for ``--version``."""
    if name in __all__:
        from checker import api

        return getattr(api, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")

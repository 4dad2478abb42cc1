"""What is cited, and who checked it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Citation:
    """A section of a document; ``verify`` when nobody has confirmed it against the book."""

    document: str
    edition: str | None
    section: str
    verify: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """Who compared a value or a section with its source: when, with what, and how sure (high, medium, low)."""

    sure: str
    against: str
    on: date | None = None
    by: str = ""

    @property
    def confirmed(self) -> bool:
        """Whether it may be printed without asking the reader to verify it."""
        return self.sure == "high"

"""Text from strangers made harmless for a terminal."""

from __future__ import annotations

import unicodedata


def harmless(text: str) -> str:
    """The text without control characters and without marks that turn the direction of writing."""
    return "".join(char if not _steers(char) else "?" for char in text)


def _steers(char: str) -> bool:
    return char != "\n" and unicodedata.category(char) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")

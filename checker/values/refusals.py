"""How a text is refused: one sentence in the trade's words, what to write instead, the nearest valid name."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping

LONGEST_TEXT = 120
"""No value is written with more characters than this; a limit of effort that also bounds the size of every number."""

_LONGEST_QUOTE = 40
_CLOSE_ENOUGH = 0.6
_MISSPELT = 0.85
"""So alike are a name and a slip of the pen in it; below that a name that begins the word in full is nearer."""


class NotationError(ValueError):
    """A text does not say a value in a way that can be understood.

    ``sentence`` says what is wrong, ``remedy`` what to write, ``near`` the nearest valid name if one is near. The three
    cannot be changed afterwards.
    """

    def __init__(self, sentence: str, remedy: str = "", near: str | None = None) -> None:
        super().__init__(sentence, remedy, near)

    @property
    def sentence(self) -> str:
        """What is wrong."""
        return str(self.args[0])

    @property
    def remedy(self) -> str:
        """What to write or do instead; may be empty."""
        return str(self.args[1])

    @property
    def near(self) -> str | None:
        """The nearest valid name, or None."""
        return None if self.args[2] is None else str(self.args[2])

    def __str__(self) -> str:
        near = f"Nearest: {self.near}." if self.near else ""
        return " ".join(part for part in (self.sentence, self.remedy, near) if part)


def quoted(text: str) -> str:
    """The text as it may stand in a sentence: on one line, shortened, never empty."""
    line = " ".join(text.split()) or "an empty text"
    return line if len(line) <= _LONGEST_QUOTE else f"{line[: _LONGEST_QUOTE - 3]}..."


def readable(text: str) -> str:
    """The text on one line, with single spaces; NotationError where there is nothing, or too much, to read."""
    stripped = " ".join(text.split())
    if not stripped:
        raise NotationError("Nothing is written here.", "Write the value, or unknown.")
    if len(stripped) > LONGEST_TEXT:
        raise NotationError(
            f"{quoted(stripped)} is too long to be a value.",
            "Write the value alone and put remarks in their own place.",
        )
    return stripped


def nearest(word: str, valid: Iterable[str], synonyms: Mapping[str, str] | None = None) -> str | None:
    """The valid name nearest to a word, or None.

    ``synonyms`` maps a word of the trade, or one part of a name, to the word used here (``amps`` to ``current``).
    """
    names = {_folded(name): name for name in valid}
    asked = _folded(word[:LONGEST_TEXT])
    meant = {_folded(key): _folded(value) for key, value in (synonyms or {}).items()}
    by_parts = "_".join(meant.get(part, part) for part in asked.split("_"))
    for candidate in (asked, meant.get(asked, asked), by_parts):
        if candidate in names:
            return names[candidate]
    for candidate in (asked, by_parts):
        near = _close(candidate, names, _MISSPELT) or _beginning(candidate, names)
        near = near or _close(candidate, names, _CLOSE_ENOUGH)
        if near:
            return names[near]
    return None


def _close(word: str, names: Iterable[str], cutoff: float) -> str | None:
    """The name that is most like a word, letter by letter."""
    return next(iter(difflib.get_close_matches(word, names, n=1, cutoff=cutoff)), None)


def _beginning(word: str, names: Iterable[str]) -> str | None:
    """The longest name that stands in full at the beginning of a word of several parts: ``optional`` of
    ``optional_dwelling``, which in letters is more like ``existing_dwelling``.
    """
    return max((name for name in names if word.startswith(f"{name}_")), key=len, default=None)


def _folded(name: str) -> str:
    return "_".join(name.casefold().replace("-", " ").replace("_", " ").split())

"""Text from strangers made harmless for a terminal and for a page."""

from __future__ import annotations

import json
import re
import unicodedata

_STEERING = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
"""Unicode categories of what steers a terminal, turns the direction of writing, or breaks a line where none is seen."""

_SUSPECT = re.compile(r"[^\n -;=-~]")
"""Everything but the plain signs of a keyboard, and of these ``<``."""


def harmless(text: str) -> str:
    """The text with a question mark for every control character and every mark that turns the direction of writing."""
    return _SUSPECT.sub(lambda found: "?" if _steers(found[0]) else found[0], text)


def escaped(json_text: str) -> str:
    """JSON text that holds the same, in which neither a terminal nor a page around it finds anything to follow.

    Signs that steer, and ``<``, stand as ``\\u`` and four digits; both can stand in the strings of JSON only.
    """
    return _SUSPECT.sub(
        lambda found: _escape(found[0]) if found[0] == "<" or _steers(found[0]) else found[0], json_text
    )


def json_text(data: object) -> str:
    """A whole report as JSON text: sorted, indented, escaped, the same bytes for the same input, with a line feed."""
    return escaped(json.dumps(data, indent=1, sort_keys=True, ensure_ascii=False)) + "\n"


def _steers(char: str) -> bool:
    return unicodedata.category(char) in _STEERING


def _escape(char: str) -> str:
    """UTF-16, as JSON counts. Half of a pair, which no text can hold, becomes the sign for what could not be read."""
    whole = "\N{REPLACEMENT CHARACTER}" if unicodedata.category(char) == "Cs" else char
    units = whole.encode("utf-16-be")
    return "".join(f"\\u{units[place] << 8 | units[place + 1]:04x}" for place in range(0, len(units), 2))

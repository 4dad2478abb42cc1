"""The characters that no text of ours may hold."""

from __future__ import annotations

import re

# Control characters (a terminal may obey them), line separators that editors do not count as lines, marks that turn the
# direction of writing (a line then reads differently from what it says), surrogates and non-characters.
_SET = (
    "\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u2028\\u2029\\u202a-\\u202e\\u2066-\\u2069\\ufeff\\ufffe\\uffff\\ud800-\\udfff"
)
FORBIDDEN = re.compile(f"[{_SET}]")
FORBIDDEN_IN_LINE = re.compile(f"[\t\n{_SET}]")
FORBIDDEN_IN_BLOCK = re.compile(f"[\t{_SET}]")


def harmless(text: str) -> str:
    """The text with a space for every tab and every forbidden character, so that reading can go on; same length."""
    return FORBIDDEN.sub(" ", text).replace("\t", " ")

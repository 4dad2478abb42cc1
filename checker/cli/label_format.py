"""What the command ``labels`` prints."""

from __future__ import annotations

from enum import StrEnum


class LabelFormat(StrEnum):
    """What a label sheet is printed as."""

    TEXT = "text"
    JSON = "json"
    SVG = "svg"
    HTML = "html"


class PaperFormat(StrEnum):
    """What the list of papers is printed as."""

    TEXT = "text"
    HTML = "html"
    JSON = "json"

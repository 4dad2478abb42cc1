"""What the command ``schedule`` prints."""

from __future__ import annotations

from enum import StrEnum


class ScheduleFormat(StrEnum):
    """What a schedule is printed as."""

    TEXT = "text"
    JSON = "json"
    HTML = "html"

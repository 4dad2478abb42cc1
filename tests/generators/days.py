"""Days as they stand on drawings."""

from __future__ import annotations

from datetime import date

DAYS = (date(2019, 5, 1), date(2023, 2, 28), date(2024, 2, 29), date(2024, 3, 11), date(2025, 3, 1), date(2026, 1, 31))
"""Few, so that two are often the same; the last of a month among them."""

TODAY = date(2024, 3, 11)
"""The date on which generated drawings are reviewed."""


def day_text(day: date) -> str:
    """The day as it is typed."""
    return day.isoformat()

"""A figure of which two ends are known, told to a person."""

from __future__ import annotations

import pytest

from checker.findings.finding import Figure
from checker.report.words import range_words


@pytest.mark.parametrize(
    ("text", "low", "high", "words"),
    [
        ("0 kA to 10.74 kA", "0", "10740", "is at most 10.74 kA"),
        ("17.34 kA to 18.56 kA", "17340", "18560", "lies between 17.34 kA and 18.56 kA"),
        ("10.74 kA", "10740", "10740", None),
        ("at most 10.74 kA", None, "10740", None),
        ("8 kA to 9 kA or 11 kA to 12 kA", "8000", "12000", None),
    ],
)
def test_two_ends_in_words(text: str, low: str | None, high: str | None, words: str | None) -> None:
    figure = Figure("P1.available_fault_current", "available fault current", text, "kA", low, high)
    assert range_words(figure) == words

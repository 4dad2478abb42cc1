"""A piece of gas pipe sized by both methods of the fuel gas code, and told with both figures and their lengths."""

from __future__ import annotations

from pathlib import Path

from checker import Library, Outcome, review

FIXTURES = Path(__file__).parents[2] / "fixtures"


def test_both_methods_are_told_with_their_lengths() -> None:
    """The branch of 3/4 in: IFGC, Table 402.4(2), gives 151 ft3/h over 50 ft and 170 ft3/h over 40 ft.

    From the meter to the furnace lie 10 + 4 + 24 + 6 = 44 ft, to the set 10 + 4 + 18 + 6 = 38 ft.
    """
    found = review(FIXTURES / "crake-landing" / "site.yaml", library=Library.shipped())
    (finding,) = [
        each
        for each in found.findings
        if each.rule == "gas-pipe-carries-its-demand" and each.outcome is Outcome.CORRECTION
    ]
    assert "carries 151 ft3/h of natural gas by the longest length of the line (44 ft)" in finding.says
    assert "170 ft3/h by the length to the end of its own branch (38 ft)" in finding.says
    assert "280 ft3/h is asked of it, and either of the two methods would do" in finding.says

"""What is said of a finding that meets: by which way, where the first of several falls short."""

from __future__ import annotations

from checker import review
from checker.report.paragraphs import met_words


def test_a_device_that_is_the_next_standard_size_is_told_as_such() -> None:
    """500 kcmil copper carries 380 A at 75 °C (NFPA 70, Table 310.16) and stands behind 400 A by 240.4(B)."""
    found = review("fixtures/whimbrel-farm/site.yaml").findings
    told = {each.id.partition(":")[2]: met_words(each) for each in found}
    words = told["conductors-protected-at-their-ampacity@DP>ATS1.normal"]
    assert "ampacity of the phase conductors: 380 A, wanted at least 400 A" in words
    assert "it holds by another way, next size up" in words
    assert "another way" not in told["conductors-protected-at-their-ampacity@GEN1/1>ATS1.alternate"], "380 A on 350 A"

"""The registry: no fact of one type of subject is worked out twice."""

from __future__ import annotations

from collections import Counter

from checker.facts.registry import entries, registry


def test_no_fact_of_a_subject_has_two_derivations() -> None:
    counts = Counter((each.fact, subject) for each in entries() for subject in each.subjects)
    assert [key for key, count in counts.items() if count > 1] == []
    assert set(counts) == set(registry())

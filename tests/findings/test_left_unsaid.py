"""Why a rule does not apply: what nobody wrote is not told as if somebody had."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.findings.judging.outcomes import Outcome
from tests.findings.small_reviews import finding

ON_LOAD = "{exercise_load: {is: with_load, if_absent: no}}"
BY_HAND = "{operation: {is: manual}}"


@pytest.mark.parametrize(
    ("when", "switch", "because"),
    [
        (ON_LOAD, "place: garage", "load on which it exercises is not said"),
        (ON_LOAD, "place: garage, exercise_load: none", "load on which it exercises is none"),
        (ON_LOAD, "place: garage, exercise_load: load_bank", "load on which it exercises is on a load bank"),
        (BY_HAND, "place: garage, operation: automatic", "operation is automatic"),
    ],
)
def test_what_counts_only_where_it_is_said_is_told_as_not_said(
    tmp_path: Path, when: str, switch: str, because: str
) -> None:
    found = finding(tmp_path, "{place: {is: outdoors}}", switch, when=when)
    assert found.outcome is Outcome.NOT_APPLICABLE
    assert found.because == because

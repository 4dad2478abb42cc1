"""Facts of the trade that every installer knows, through the whole program. Common practice: no source is claimed."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.findings.judging.outcomes import Outcome
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file

PLACE = Path(__file__).parents[2] / "fixtures" / "plover-row"
MET, CORRECTION, RECOMMENDATION = Outcome.MET, Outcome.CORRECTION, Outcome.RECOMMENDATION


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def outcome(tmp_path: Path, library: Library, rule: str, *changes: tuple[str, str]) -> Outcome:
    """What one rule says of the switch of the simplest dwelling when some of its text is replaced."""
    text = (PLACE / "site.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (tmp_path / "site.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "profile.yaml").write_bytes((PLACE / "profile.yaml").read_bytes())
    review = review_file(tmp_path / "site.yaml", library, Overrides())
    return next(each.outcome for each in review.findings if each.rule == rule and each.subject.id == "ATS1")


SWITCH_RATING = "rated_current: 100 A, rated_voltage: 240 V"
FEEDER_BREAKER = "2: {overcurrent: 100 A}"


@pytest.mark.parametrize(
    ("breaker", "switch", "wanted"),
    [
        pytest.param("100 A", "100 A", MET, id="100 A subpanel, 100 A switch"),
        pytest.param("100 A", "60 A", CORRECTION, id="100 A subpanel, 60 A switch"),
        pytest.param("200 A", "200 A", MET, id="200 A service, 200 A switch"),
        pytest.param("200 A", "100 A", CORRECTION, id="200 A service, 100 A switch, however small the set"),
    ],
)
def test_the_switch_follows_the_breaker_ahead_of_it(
    tmp_path: Path, library: Library, breaker: str, switch: str, wanted: Outcome
) -> None:
    changes = (
        (FEEDER_BREAKER, f"2: {{overcurrent: {breaker}}}"),
        (SWITCH_RATING, f"rated_current: {switch}, rated_voltage: 240 V"),
    )
    assert outcome(tmp_path, library, "switch-not-below-its-breakers", *changes) is wanted


@pytest.mark.parametrize(("switch", "wanted"), [("50 A", MET), ("49 A", RECOMMENDATION)])
def test_a_twelve_kilowatt_set_wants_a_switch_of_fifty_amperes(
    tmp_path: Path, library: Library, switch: str, wanted: Outcome
) -> None:
    change = (SWITCH_RATING, f"rated_current: {switch}, rated_voltage: 240 V")
    assert outcome(tmp_path, library, "switch-carries-the-set", change) is wanted


@pytest.mark.parametrize(
    ("poles", "neutral", "wanted"),
    [
        pytest.param("2", "solid", MET, id="two poles, neutral solid"),
        pytest.param("1", "solid", CORRECTION, id="one pole on two phase conductors"),
        pytest.param("3", "switched", MET, id="three poles where the neutral is switched"),
        pytest.param("2", "switched", CORRECTION, id="two poles are too few for a switched neutral"),
        pytest.param("3", "overlapping", MET, id="three poles where the neutral overlaps"),
    ],
)
def test_poles_at_120_240_volts_single_phase(
    tmp_path: Path, library: Library, poles: str, neutral: str, wanted: Outcome
) -> None:
    change = ("poles: 2, neutral: solid", f"poles: {poles}, neutral: {neutral}")
    assert outcome(tmp_path, library, "switch-fits-its-system", change) is wanted


def test_a_set_of_three_phases_does_not_fit_a_house_of_one(tmp_path: Path, library: Library) -> None:
    change = (
        'power_factor: "1.0",\n         system: 120/240 V 1-phase 3-wire',
        'power_factor: "1.0",\n         system: 208Y/120 V 3-phase 4-wire',
    )
    assert outcome(tmp_path, library, "switch-fits-its-system", change) is CORRECTION

"""A finding says that it rests on an assumed value exactly where something else could come out without it."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.model import Stage
from checker.findings.judging.outcomes import Outcome
from tests.findings.small_reviews import finding, parameter

AMPERES = parameter("least", "load_current", "200 A")
LARGE_ENOUGH = "{rated_current: {at_least: {parameter: least}}}"
AUTOMATIC = "{operation: {is: automatic}}"


def assumed(value: str) -> str:
    """A value as somebody writes it who does not know it."""
    return f"{{value: {value}, per: assumed}}"


@pytest.mark.parametrize(
    ("switch", "when", "outcome", "rests_on"),
    [
        (f"rated_current: {assumed('400 A')}", "", Outcome.MET, ("ATS1.rated_current",)),
        (f"rated_current: {assumed('60 A')}", "", Outcome.CORRECTION, ("ATS1.rated_current",)),
        ("rated_current: 400 A", "", Outcome.MET, ()),
        (f"rated_current: {assumed('400 A')}, operation: manual", AUTOMATIC, Outcome.NOT_APPLICABLE, ()),
        (
            f"rated_current: 400 A, operation: {assumed('manual')}",
            AUTOMATIC,
            Outcome.NOT_APPLICABLE,
            ("ATS1.operation",),
        ),
        (f"rated_current: 60 A, operation: {assumed('automatic')}", AUTOMATIC, Outcome.CORRECTION, ("ATS1.operation",)),
        (
            f"rated_current: {assumed('60 A')}, operation: {assumed('automatic')}",
            AUTOMATIC,
            Outcome.CORRECTION,
            ("ATS1.operation", "ATS1.rated_current"),
        ),
        (f"rated_current: 400 A, operation: {assumed('automatic')}", AUTOMATIC, Outcome.MET, ()),
    ],
)
def test_what_a_finding_rests_on(
    switch: str, when: str, outcome: Outcome, rests_on: tuple[str, ...], tmp_path: Path
) -> None:
    found = finding(tmp_path, LARGE_ENOUGH, switch, AMPERES, when)
    assert (found.outcome, found.assumed) == (outcome, rests_on)


@pytest.mark.parametrize(("value", "is_open"), [(assumed("400 A"), True), ("400 A", False)])
def test_what_meets_on_an_assumption_is_open(value: str, is_open: bool, tmp_path: Path) -> None:
    found = finding(tmp_path, LARGE_ENOUGH, f"rated_current: {value}", AMPERES)
    assert found.outcome is Outcome.MET
    assert found.is_open_at(Stage.PLAN_REVIEW) is is_open


@pytest.mark.parametrize(
    ("generator", "rests_on"), [(f", fuel: {assumed('diesel')}", ("GEN1.fuel",)), (", fuel: diesel", ())]
)
def test_what_is_read_along_a_link_counts_like_the_subjects_own(
    generator: str, rests_on: tuple[str, ...], tmp_path: Path
) -> None:
    found = finding(tmp_path, "{alternate.fuel: {is: diesel, if_absent: no}}", "poles: 2", generator=generator)
    assert (found.outcome, found.assumed) == (Outcome.MET, rests_on)


def test_what_follows_from_an_assumption_counts(tmp_path: Path) -> None:
    """The greatest current follows from the power, its voltage and its power factor."""
    power = f"rated_power: {{natural_gas: {assumed('19 kW')}}}"
    generator = f', fuel: natural_gas, {power}, power_factor: "1.0", system: 120/240 V 1-phase 3-wire'
    condition = "{rated_current: {at_least: {fact: alternate.greatest_current}, if_absent: no}}"
    found = finding(tmp_path, condition, "rated_current: 400 A", generator=generator)
    assert (found.outcome, found.assumed) == (Outcome.MET, ("GEN1.rated_power.natural_gas",))

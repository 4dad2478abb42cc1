"""The command ``worksheet``: from the nameplate to the figure that a finding compares."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.project.project_tree import ROOT

HARROW = str(ROOT / "fixtures" / "harrow-lane" / "site.yaml")
WREN = str(ROOT / "fixtures" / "wren-cottage" / "site.yaml")


def test_every_step_is_shown_with_where_it_comes_from(run: Run) -> None:
    """19.5 kW x (1 - 3 % x 120 / 1000 ft) x (1 - 1 % x 18 / 10 F) = 19.08 kW; at 240 V and power factor 1 that is
    79.5 A, by the definition of power.
    """
    ran = run("worksheet", HARROW, "GEN1.capacity")
    assert (ran.status, ran.err) == (0, "")
    values = {line[:56].strip(): line[56:].strip() for line in ran.out.splitlines() if line.startswith("(")}
    assert values["(a) power"] == "19.08 kW"
    assert values["(b) voltage between phase conductors"] == "240 V"
    amperes = Decimal(values["(e) Full-load current"].removesuffix(" A"))
    assert abs(amperes - Decimal("19080.06") / 240) < Decimal("0.005")
    assert "GEN1.power_at_site; derived" in ran.out
    assert "Worked out:" not in ran.out


def test_what_is_given_by_numbers_stands_apart_from_the_steps_by_letters(run: Run) -> None:
    given, _, steps = run("worksheet", HARROW, "ATS1>P1.ampacity").out.partition("\nWorked out:\n")
    assert given.splitlines()[1] == "Given:"
    assert all(each.isdigit() for each in re.findall(r"^\((\w+)\)", given, re.MULTILINE))
    assert re.findall(r"^\((\w+)\)", steps, re.MULTILINE)[:2] == ["a", "b"]


def test_findings_that_rest_on_it_are_named_as_explain_takes_them(run: Run) -> None:
    out = " ".join(run("worksheet", HARROW, "GEN1.capacity").out.split())
    told = out.partition("Compared in ")[2].partition(".")[0]
    numbers = re.findall(r"\b\d+\b", told)
    assert numbers
    for number in numbers:
        assert "79.5 A" in run("explain", HARROW, number).out


def test_all_are_shown_where_none_is_named(run: Run) -> None:
    ran = run("worksheet", HARROW)
    names = re.findall(r"^(\S+(?: \d+)?\.\w+): ", ran.out, re.MULTILINE)
    assert {"UTIL.calculated_load", "GEN1.automatic_load", "GEN1.capacity", "GEN1.greatest_current"} <= set(names)
    assert len(names) == len(set(names))
    assert f"{len(names)} worksheets of 14 Harrow Lane." in ran.out
    assert max(map(len, ran.out.splitlines())) <= 88


@pytest.mark.parametrize(("wanted", "near"), [("GEN1.capacty", "GEN1.capacity"), ("X", "")])
def test_a_worksheet_that_is_not_there_is_told(wanted: str, near: str, run: Run) -> None:
    ran = run("worksheet", WREN, wanted)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(f"There is no worksheet of {wanted}.\n")
    assert "GEN1.capacity, " in ran.err
    assert "GEN1.greatest_current" in ran.err
    assert (f"Nearest valid name: {near}" in ran.err) == bool(near)


def test_a_site_that_cannot_be_read_is_told_as_in_a_review(run: Run) -> None:
    ran = run("worksheet", "nowhere.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "nowhere.yaml" in ran.err

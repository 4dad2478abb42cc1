"""The command ``explain``: one finding in full, and what follows from each role of the disconnect behind it."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.project.project_tree import ROOT

HARROW = str(ROOT / "fixtures" / "harrow-lane" / "site.yaml")
BOND = "nfpa-70-2020:no-neutral-bond-past-the-service-disconnect@P1"


def test_a_finding_is_explained_by_its_number_and_by_its_id(run: Run) -> None:
    by_id = run("explain", HARROW, BOND)
    assert (by_id.status, by_id.err) == (0, "")
    assert "P1 is past the service disconnect and its neutral is still bonded" in by_id.out
    number = next(word for word in by_id.out.split() if word.isdigit())
    assert run("explain", HARROW, number).out == by_id.out


def test_the_ways_are_worked_out_side_by_side(run: Run) -> None:
    """Scenario of the trade: with the old panel kept as service disconnect, its bond is right where it is."""
    out = run("explain", HARROW, BOND, "--ways").out
    as_service, as_emergency = (block(out, role) for role in ("service disconnect", "emergency disconnect"))
    bond = "P1 is past the service disconnect and its neutral is still bonded"
    assert bond in as_service
    assert bond not in as_emergency
    assert "No sign at ATS1" in as_emergency


def block(out: str, role: str) -> str:
    """What is printed under the heading of one role, as one line."""
    blocks = [each for each in out.split("\n\n") if each.startswith(role)]
    assert len(blocks) == 1, blocks
    return " ".join(blocks[0].split())


@pytest.mark.parametrize("wanted", ["0", "9999", "no-such-finding"])
def test_a_finding_that_is_not_there_is_told_in_a_sentence(wanted: str, run: Run) -> None:
    ran = run("explain", HARROW, wanted)
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(f"There is no finding {wanted}.\n  Give a number from 1 to ")


def test_a_site_that_cannot_be_read_is_told_as_in_a_review(run: Run) -> None:
    ran = run("explain", "nowhere.yaml", "1")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "nowhere.yaml" in ran.err


def test_the_role_as_drawn_has_the_numbers_of_the_report(run: Run) -> None:
    """Teal Mill has a second service disconnect on another line, which keeps its role whatever the first one is."""
    site = str(ROOT / "fixtures" / "teal-mill" / "site.yaml")
    report, out = run("review", site).out, run("explain", site, "2", "--ways").out
    corrections = report.split("Corrections: ")[1].split()[0].rstrip(",")
    assert f"{corrections} corrections, " in block(out, "service disconnect, as it is drawn")
    assert "ATS2 with P1" in block(out, "no role")
    table = next(each for each in out.split("\n\n") if each.startswith("ATS1 could be each of these"))
    row = next(line for line in table.splitlines() if line.startswith("correction "))
    assert row.split()[1] == corrections
    assert len(row.split()) == 5


def test_a_role_that_the_edition_or_the_occupancy_does_not_know_is_not_offered(run: Run) -> None:
    shop = str(ROOT / "fixtures" / "grebe-court" / "site.yaml")
    assert "emergency" not in run("explain", shop, "1", "--ways").out.split("could be each of these")[1]
    assert (
        "emergency" not in run("explain", HARROW, "1", "--ways", "--jurisdiction", "nec-2017").out.split("could be")[1]
    )


def test_a_finding_is_numbered_as_at_the_stage_asked_for(run: Run) -> None:
    later = run("review", HARROW, "--stage", "in_service").out
    number = next(line.split()[1] for line in later.splitlines() if line.startswith("□"))
    told = run("explain", HARROW, number, "--stage", "in_service").out
    assert told.startswith(f"□ {number}")

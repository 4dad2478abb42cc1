"""Ends of gas pipe that name nothing on the drawing are told, with the nearest name."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.site.model import DrawingNotice
from checker.site.read import read_site

SITE = """
site: {{name: Gas House, jurisdiction: nec-2020}}
permit: {{application_date: "2024-03-01"}}
equipment:
  UTIL: {{kind: utility_supply}}
  GM1: {{kind: gas_meter}}
  REG1: {{kind: gas_regulator}}
  GEN1: {{kind: generator}}
gas_pipes: {{complete: {pipes_complete}, list: [{pipes}]}}
gas_appliances: {{complete: {appliances_complete}, list: [{{name: water heater}}]}}
"""
MAIN = "{starts_at: GM1, ends_at: tee 1}"
BRANCHES = "{starts_at: tee 1, ends_at: GEN1}, {starts_at: Tee 1, ends_at: Water  Heater}"


def notices(folder: Path, pipes: str, *, complete: str = "yes", appliances: str = "yes") -> tuple[DrawingNotice, ...]:
    text = SITE.format(pipes=pipes, pipes_complete=complete, appliances_complete=appliances)
    path = folder / "site.yaml"
    path.write_text(text, encoding="utf-8")
    return read_site(path, shipped_catalog()).notices


@pytest.mark.parametrize("complete", ["yes", "no"])
def test_a_line_that_hangs_together_is_not_spoken_of(complete: str, tmp_path: Path) -> None:
    capped = "{starts_at: tee 1, ends_at: cap}"
    assert notices(tmp_path, f"{MAIN}, {BRANCHES}, {capped}", complete=complete) == ()


@pytest.mark.parametrize(
    ("pipes", "told"),
    [
        (f"{{starts_at: GM2, ends_at: tee 1}}, {BRANCHES}", "Gas pipe 1 starts at GM2, which is no gas meter"),
        (f"{MAIN}, {{starts_at: tee 1, ends_at: GEN2}}", "Gas pipe 2 ends at GEN2, which is no set, regulator or"),
        (f"{MAIN}, {{starts_at: tea 1, ends_at: GEN1}}", "Gas pipe 2 starts at tea 1, which is no gas meter"),
    ],
)
def test_an_end_that_names_nothing_is_told_with_the_nearest_name(pipes: str, told: str, tmp_path: Path) -> None:
    found = [each.sentence for each in notices(tmp_path, pipes) if each.sentence.startswith(told)]
    near = {"GM2": "GM1", "GEN2": "GEN1", "tea 1": "tee 1"}
    wanted = next(name for written, name in near.items() if written in told)
    assert [sentence.endswith(f"Nearest: {wanted}.") for sentence in found] == [True]
    assert notices(tmp_path, pipes)[0].at.line > 0


def test_where_the_lists_are_open_only_what_is_nearly_a_name_is_told(tmp_path: Path) -> None:
    """``tee 2`` may go on in pipe that is not listed; ``GEN2`` is hardly that."""
    assert notices(tmp_path, "{starts_at: GM1, ends_at: tee 2}", complete="no") == ()
    (found,) = notices(tmp_path, "{starts_at: GM1, ends_at: GEN2}", complete="no")
    assert "Nearest: GEN1." in found.sentence
    (other,) = notices(tmp_path, "{starts_at: GM1, ends_at: kitchen}", complete="yes")
    assert "Nearest" not in other.sentence

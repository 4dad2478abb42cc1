"""What can feed each piece, in the table of every piece: no row is blank."""

from __future__ import annotations

from pathlib import Path

from checker import review
from checker.files.folders import data_folder

SITE = """
site: {{name: Sedge Yard, jurisdiction: nec-2023, stage: plan_review, other_sources: none}}
permit: {{application_date: "2025-05-02"}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: {{main: UTIL, 30: INV1}}, ways: {{main: {{}}, 2: {{overcurrent: 60 A}}, 30: {{}}}}}}
  TS1: {{kind: transfer_switch, normal: P1/2, alternate: INLET1}}
  P2: {{kind: panelboard, fed_from: TS1}}
  INLET1: {{kind: inlet{cord}}}
  INV1: {{kind: inverter}}
  GEN1: {{kind: generator}}
"""


def fed_by(folder: Path, cord: str) -> dict[str, str]:
    path = folder / "site.yaml"
    path.write_text(SITE.format(cord=cord), encoding="utf-8")
    return {each.words: each.fed_by for each in review(path).figures}


def test_every_piece_tells_what_is_above_it(tmp_path: Path) -> None:
    assert fed_by(tmp_path, ", fed_from: GEN1") == {
        "P1": "inverter, utility supply",
        "TS1": "generator, inverter, utility supply",
        "TS1, normal side": "inverter, utility supply",
        "TS1, alternate side": "generator",
        "P2": "generator, inverter, utility supply",
        "INLET1": "generator",
    }


def test_an_inlet_without_its_cord_is_not_known(tmp_path: Path) -> None:
    found = fed_by(tmp_path, "")
    assert found["INLET1"] == "not known"
    assert found["P2"] == "inverter, utility supply, not known"


def test_no_row_of_an_example_is_blank() -> None:
    for name in ("snipe-lodge", "dunlin-terrace", "crake-landing"):
        assert all(each.fed_by for each in review(data_folder("fixtures") / name / "site.yaml").figures)

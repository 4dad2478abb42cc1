"""Whether a run carries the whole load of a one-family dwelling (NFPA 70, 310.12), by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import EITHER_FLAG, Possible, exactly
from tests.facts.reading import view_under

SITE = """
site: {{name: Teal Cottage, stage: plan_review, occupancy: {occupancy}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  M1: {{kind: meter, fed_from: UTIL}}
  ATS1: {{kind: transfer_switch, normal: M1, alternate: GEN1/1}}
  P1: {{kind: panelboard, fed_from: ATS1, ways: {{4: {{overcurrent: 100 A}}}}}}
  P2: {{kind: panelboard, fed_from: {second}}}
  GEN1: {{kind: generator, ways: {{1: {{overcurrent: 100 A}}}}}}
runs: {{{runs}}}
loads: {{complete: {complete}, list: [{{name: range, load_kind: {kind}, load_power: 8 kVA, at: {at}}}]}}
"""
YES = exactly(True)


@pytest.mark.parametrize(
    ("run", "occupancy", "second", "at", "answer"),
    [
        ("ATS1>P1", "one_family_dwelling", "P1/4", "P1", YES),
        ("M1>ATS1.normal", "one_family_dwelling", "P1/4", "P1", YES),
        ("ATS1>P1", "one_family_dwelling", "P1/4", "P2", YES),
        # A second board beside the first one, a board ahead, a set, another occupancy, a load ahead.
        ("ATS1>P1", "one_family_dwelling", "ATS1", "P1", EITHER_FLAG),
        ("M1>ATS1.normal", "one_family_dwelling", "ATS1", "P1", YES),
        ("P1/4>P2", "one_family_dwelling", "P1/4", "P1", EITHER_FLAG),
        ("GEN1/1>ATS1.alternate", "one_family_dwelling", "P1/4", "P1", EITHER_FLAG),
        ("ATS1>P1", "two_family_dwelling", "P1/4", "P1", EITHER_FLAG),
        ("ATS1>P1", "one_family_dwelling", "P1/4", "M1", EITHER_FLAG),
    ],
)
def test_all_of_the_dwelling_is_fed_through_the_run(
    run: str, occupancy: str, second: str, at: str, answer: Possible, tmp_path: Path, library: Library
) -> None:
    text = SITE.format(
        occupancy=occupancy, second=second, at=at, complete="yes", kind="cooking", runs=f"{run}: {{length: 20 ft}}"
    )
    view = view_under("nec-2023", text, tmp_path, library)
    assert view.read(Subject("connection", run), "whole_dwelling_load") == answer


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("occupancy: one_family_dwelling", "occupancy: one_family_dwelling, dwelling_fed_by_feeder: yes"),
        ("occupancy: one_family_dwelling", "occupancy: one_family_dwelling, agricultural_building: yes"),
        ("load_kind: cooking", "load_kind: other_building"),
        ("load_kind: cooking, ", ""),
    ],
)
def test_where_another_building_may_hang_on_the_run_a_person_has_to_say_so(
    written: str, instead: str, tmp_path: Path, library: Library
) -> None:
    said = {"occupancy": "one_family_dwelling", "second": "P1/4", "at": "P1", "complete": "yes", "kind": "cooking"}
    text = SITE.format(**said, runs="ATS1>P1: {length: 20 ft}")
    view = view_under("nec-2023", text.replace(written, instead), tmp_path, library)
    assert view.read(Subject("connection", "ATS1>P1"), "whole_dwelling_load") == EITHER_FLAG


def test_what_a_person_writes_stands_where_the_drawing_cannot_tell(tmp_path: Path, library: Library) -> None:
    runs = "GEN1/1>ATS1.alternate: {whole_dwelling_load: yes}"
    text = SITE.format(
        occupancy="one_family_dwelling", second="P1/4", at="P1", complete="yes", kind="cooking", runs=runs
    )
    view = view_under("nec-2023", text, tmp_path, library)
    assert view.read(Subject("connection", "GEN1/1>ATS1.alternate"), "whole_dwelling_load") == YES


@pytest.mark.parametrize(("complete", "kind"), [("no", "cooking"), ("yes", "other_building"), ("yes", "unknown")])
def test_what_may_be_of_another_building_leaves_it_open(
    complete: str, kind: str, tmp_path: Path, library: Library
) -> None:
    text = SITE.format(
        occupancy="one_family_dwelling",
        second="P1/4",
        at="P1",
        complete=complete,
        kind=kind,
        runs="ATS1>P1: {length: 20 ft}",
    )
    view = view_under("nec-2023", text, tmp_path, library)
    assert view.read(Subject("connection", "ATS1>P1"), "whole_dwelling_load") == EITHER_FLAG

"""The load by measured demand (NFPA 70, 220.87): 1.25 x the greatest demand + what is added, and its conditions."""

from __future__ import annotations

from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

SHOP = """
site: {{name: Fern Hall, occupancy: mercantile, load_method: measured_demand, other_sources: {others}}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 600 A}}
  GEN1: {{kind: generator, system: {system}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
papers: {{list: [{{paper: {paper}, readings: demand.csv}}]}}
loads:
  complete: {complete}
  list:
    - {{name: oven, load_kind: appliance, load_power: 12 kVA, at: P1, added: {added}}}
"""
BASE = {
    "others": "none",
    "system": "480Y/277 V 3-phase 4-wire",
    "paper": "demand_record",
    "complete": "yes",
    "added": "yes",
}
ROOT = Fraction(1732050807568877293, 10**18)


def loads(
    folder: Path, library: Library, year: str = "2020", days: int = 30, minutes: int = 15, **but: str
) -> tuple[Possible, Possible]:
    """What is possible for the load of GEN1 and of UTIL, with 100 kVA at the greatest."""
    start, count = datetime(2025, 1, 1, tzinfo=None), days * 24 * 60 // minutes  # noqa: DTZ001  local time, as meters write it
    rows = [f"{(start + timedelta(minutes=minutes) * n).isoformat(' ')},{100 if n == 7 else 60}" for n in range(count)]
    (folder / "demand.csv").write_text("\n".join(["time,kVA", *rows]), encoding="utf-8")
    view = view_under(f"nec-{year}", SHOP.format(**{**BASE, **but}), folder, library)
    return fact_of(view, "GEN1", "automatic_load"), fact_of(view, "UTIL", "calculated_load")


def amperes(kva: int) -> float:
    return float(kva * 1000 / (ROOT * 480))


def test_the_demand_is_raised_and_what_is_added_comes_on_top(tmp_path: Path, library: Library) -> None:
    for found in loads(tmp_path, library):
        assert found.number is not None
        assert float(found.number) == pytest.approx(amperes(125 + 12), rel=1e-8)


def test_what_was_there_is_in_the_record(tmp_path: Path, library: Library) -> None:
    for found in loads(tmp_path, library, added="no"):
        assert found.number is not None
        assert float(found.number) == pytest.approx(amperes(125), rel=1e-8)


def test_what_may_be_added_or_is_not_listed_leaves_an_end_open(tmp_path: Path, library: Library) -> None:
    hull = loads(tmp_path, library, added="unknown")[0].hull
    assert hull is not None
    assert hull.low is not None
    assert hull.high is not None
    assert (float(hull.low), float(hull.high)) == pytest.approx((amperes(125), amperes(137)), rel=1e-8)
    hull = loads(tmp_path, library, complete="no")[0].hull
    assert hull is not None
    assert hull.low is not None
    assert hull.high is None


@pytest.mark.parametrize(
    ("conditions", "words"),
    [
        ({"days": 29}, "30 days at least"),
        ({"minutes": 30}, "intervals of 15 minutes at most"),
        ({"others": "[solar]"}, "on site has lowered"),
        ({"others": "unknown"}, "on site has lowered"),
        ({"paper": "load_calculation"}, "not one record of demand"),
    ],
)
def test_a_record_that_does_not_count_gives_no_number(
    conditions: dict[str, object], words: str, tmp_path: Path, library: Library
) -> None:
    found, _ = loads(tmp_path, library, **conditions)  # type: ignore[arg-type]
    assert not found.has_value
    assert words in "".join(found.undefined)


@pytest.mark.parametrize(("year", "counts"), [("2017", True), ("2020", True), ("2023", False), ("2026", False)])
def test_solar_bars_a_record_of_a_year_from_2023_on(year: str, counts: bool, tmp_path: Path, library: Library) -> None:
    assert loads(tmp_path, library, year, days=365, minutes=60, others="[solar]")[0].has_value is counts

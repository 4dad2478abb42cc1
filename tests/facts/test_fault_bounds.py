"""Whatever is filled in, the fault current of the finished drawing lies between the two ends that were printed.

The other side is written here a second time: complex numbers, admittances solved node by node, and a second typed copy
of chapter 9, Table 9 (``tests/published/tables``). Conductors are as cold as -40 °C and as close as in a cable.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.findings.review import view_of
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing

COPY = Path(__file__).parents[1] / "published" / "tables" / "conductors.yaml"
COLUMNS = {
    ("copper", "pvc"): (3, 1),
    ("copper", "aluminum"): (4, 1),
    ("copper", "steel"): (5, 2),
    ("aluminum", "pvc"): (6, 1),
    ("aluminum", "aluminum"): (7, 1),
    ("aluminum", "steel"): (8, 2),
}
RACEWAYS = ("pvc", "aluminum", "steel")
SIZES = ("2 AWG", "4/0 AWG", "500 kcmil")
KINDS = ("lines", "line_and_neutral", "three_phase")
SYSTEMS = {1: ("120/240 V 1-phase 3-wire", 240.0, 120.0), 3: ("480Y/277 V 3-phase 4-wire", 480.0, 277.0)}


def table() -> dict[str, list[Any]]:
    pages = yaml.safe_load(COPY.read_text(encoding="utf-8"))
    rows = next(page["rows"] for page in pages.values() if "Chapter 9 Table 9" in page["table"])
    return {row[0]: row for row in rows}


ROWS = table()


@dataclass(frozen=True)
class Built:
    """One run as it is built: what can be written of it, and the temperature and nearness that nobody writes."""

    size: str
    metal: str
    raceway: str
    length: float
    sets: int
    cold: float
    close: float

    def ohms(self) -> complex:
        """Of one conductor, those in parallel counted."""
        row = ROWS[self.size.removesuffix(" AWG").removesuffix(" kcmil")]
        resistance, reactance = (row[place] for place in COLUMNS[self.metal, self.raceway])
        each = complex(resistance * self.cold, reactance * self.close)
        return each * self.length / 1000 / self.sets


def builds() -> st.SearchStrategy[Built]:
    return st.builds(
        Built,
        st.sampled_from(SIZES),
        st.sampled_from(("copper", "aluminum")),
        st.sampled_from(RACEWAYS),
        st.integers(1, 300),
        st.integers(1, 3),
        st.sampled_from((0.63, 0.8, 1.0)),
        st.sampled_from((0.7, 0.85, 1.0)),
    )


@st.composite
def written(draw: st.DrawFn, run: Built) -> str:
    """What a drawing says of it, some of it left out or blurred."""
    sets = f"{run.sets} x " if run.sets > 1 else ""
    phase = f"{sets}{run.size} {run.metal}"
    length = draw(
        st.sampled_from((f"{run.length} ft", f"{max(run.length - 5, 1)} ft to {run.length + 5} ft", "unknown"))
    )
    raceway = draw(st.sampled_from((run.raceway, run.raceway, "unknown")))
    conductors = draw(st.sampled_from((phase, phase, phase, "unknown")))
    return f"{{phase: {conductors}, neutral_conductor: {conductors}, length: {length}, run_raceway: {raceway}}}"


def solved(kind: str, volts: float, source: complex, runs: list[complex], back: float = 1.0) -> float:
    """Amperes at the end by admittances: a source behind its impedance, nodes between the runs, the last node at zero
    volts. Each run counts once, twice, or as phase and neutral by the kind of fault; ``back`` is what ground beside the
    neutral leaves of the neutral.
    """
    counts = {"three_phase": 1.0, "lines": 2.0, "line_and_neutral": 1 + back}[kind]
    series = [source, *(run * counts for run in runs)]
    nodes = len(series) - 1
    admittances = np.zeros((nodes, nodes), dtype=complex)
    injected = np.zeros(nodes, dtype=complex)
    if not nodes:
        return volts / abs(source)
    injected[0] = volts / series[0]
    for place in range(nodes):
        admittances[place, place] = 1 / series[place] + 1 / series[place + 1]
        if place:
            admittances[place, place - 1] = admittances[place - 1, place] = -1 / series[place]
    potentials = np.linalg.solve(admittances, injected)
    return float(abs(potentials[-1] / series[-1]))


@pytest.fixture(scope="module")
def numbers() -> NumbersInForce:
    library = Library.shipped()
    return standing("nec-2023", library.profiles, library).on(date(2026, 3, 14)).numbers


def loop_volts(kind: str, phases: int) -> float:
    _, between, neutral = SYSTEMS[phases]
    return {"lines": between, "line_and_neutral": neutral, "three_phase": between / math.sqrt(3)}[kind]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    data=st.data(),
    phases=st.sampled_from((1, 3)),
    first=builds(),
    second=builds(),
    amperes=st.integers(500, 60_000),
    ratio=st.sampled_from((0.3, 1.0, 2.5, 8.0, 1e6)),
)
def test_what_is_built_lies_between_the_ends(
    data: st.DataObject,
    phases: int,
    first: Built,
    second: Built,
    amperes: int,
    ratio: float,
    numbers: NumbersInForce,
    tmp_path: Path,
) -> None:
    kind = data.draw(st.sampled_from(KINDS if phases == 3 else KINDS[:2]))
    said = data.draw(st.sampled_from((f"between: {kind}", "between: unknown")))
    angle = data.draw(st.sampled_from(("", f", x_over_r: {ratio}" if ratio < 1000 else "", ", x_over_r: at least 0.2")))
    path = tmp_path / "site.yaml"
    path.write_text(
        f"""
site: {{name: Fern House, stage: plan_review, other_sources: none, motor_fault_current: none}}
equipment:
  UTIL:
    kind: utility_supply
    system: {SYSTEMS[phases][0]}
    available_fault_current: {{value: {amperes} A, {said}{angle}}}
  D1: {{kind: disconnect, fed_from: UTIL}}
  P1: {{kind: panelboard, fed_from: D1}}
runs:
  UTIL>D1: {data.draw(written(first))}
  D1>P1: {data.draw(written(second))}
""",
        encoding="utf-8",
    )
    view = view_of(read_site(path, shipped_catalog()), shipped_catalog(), numbers)
    volts, back = loop_volts(kind, phases), data.draw(st.sampled_from((0.0, 0.4, 1.0)))
    source = cmath.rect(volts / amperes, math.atan(ratio))
    for tag, runs in (("D1", [first]), ("P1", [first, second])):
        hull = view.read(Subject("fault_source", f"{tag}~UTIL"), "available_fault_current").hull
        assert hull is not None
        assert hull.high is not None
        real = solved(kind, volts, source, [run.ohms() for run in runs], back)
        as_in_the_table = [
            Built(*(run.size, run.metal, run.raceway, run.length, run.sets, 1, 1)).ohms() for run in runs
        ]
        assert real <= float(hull.high) * (1 + 1e-8)
        assert solved(kind, volts, source, as_in_the_table) >= float(hull.low or 0) * (1 - 1e-8)

"""What the motors among the loads feed into a fault, by hand and at its end.

By hand: full-load current = rating / voltage, over root 3 of it for three phases, six times of it in the first cycles
(IEEE Std 141 and fault-current handbooks, from memory: 4 to 6). The places are invented.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.findings.review import view_of
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import SITE, Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.values.possible import Possible
from tests.facts.set_sites import site_view

FACT = "motor_fault_current"
MILL = """
site: {{name: Alder Mill, stage: plan_review, other_sources: none, occupancy: industrial{stated}}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}, available_fault_current: 20 kA}}
  P1: {{kind: panelboard, fed_from: UTIL}}
{pieces}loads: {{complete: {complete}, list: [{loads}]}}
"""
WYE = "480Y/277 V 3-phase 4-wire"
COMPRESSOR = (
    "{at: P1, load_kind: cooling, load_power: 64 kVA, motor_voltage: 480 V, motor_phases: three, behind_converter: no}"
)
PUMP = "{at: P1, load_kind: appliance, motor_driven: yes, load_power: 2 kVA}"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def value(folder: Path, library: Library, *loads: str, **but: str) -> Possible:
    told = {"stated": "", "system": WYE, "pieces": "", "complete": "yes", "loads": ", ".join(loads)} | but
    return site_view(folder, library, MILL.format(**told)).read(SITE, FACT)


def most(found: Possible) -> float | None:
    assert found.absent, "motors may stand still"
    hull = found.hull
    if hull is None:
        return 0.0
    assert hull.low == 0
    return None if hull.high is None else float(hull.high)


@pytest.mark.parametrize(
    ("loads", "by_hand"),
    [
        # A list that is complete and holds nothing is not believed.
        ((), None),
        ((COMPRESSOR,), 6 * 64_000 / (math.sqrt(3) * 480)),
        ((COMPRESSOR, PUMP), 6 * (64_000 / (math.sqrt(3) * 480) + 2_000 / 277)),
        ((COMPRESSOR.replace("behind_converter: no", "behind_converter: yes"),), 0),
        ((COMPRESSOR.replace(", behind_converter: no", ""),), 6 * 64_000 / (math.sqrt(3) * 480)),
        ((PUMP.replace("motor_driven: yes", "motor_driven: no"),), 0),
        ((PUMP.replace(", motor_driven: yes", ""),), 6 * 2_000 / 277),
        ((PUMP.replace("motor_driven: yes", "motor_driven: yes, motor_voltage: 460 V"),), 6 * 2_000 / 460),
        (("{at: P1, load_kind: heat, load_power: 30 kVA}",), 0),
        (("{at: P1, load_kind: cooling, load_power: unknown}",), None),
        (("{at: P1, load_kind: cooling, load_power: 5 kVA to 6 kVA, motor_voltage: 480 V}",), 6 * 6_000 / 480),
    ],
)
def test_six_times_the_full_load_current_of_each(
    loads: tuple[str, ...], by_hand: float | None, tmp_path: Path, library: Library
) -> None:
    """64 kVA on three phases of 480 V: 76.98 A, six times it 461.9 A. What is open of a load counts for more."""
    found = most(value(tmp_path, library, *loads))
    assert found is None if by_hand is None else found == pytest.approx(by_hand, rel=1e-6)


def test_loads_that_may_be_missing_leave_no_end(tmp_path: Path, library: Library) -> None:
    assert most(value(tmp_path, library, COMPRESSOR, complete="no")) is None


def test_past_a_transformer_the_lower_voltage_carries_more(tmp_path: Path, library: Library) -> None:
    """The same 64 kVA seen at 208 V: 177.6 A, six times it 1066 A; of a single phase at 120 V more."""
    drawn = "  T1: {kind: transformer, fed_from: P1/1, system: 208Y/120 V 3-phase 4-wire}\n"
    found = most(value(tmp_path, library, COMPRESSOR, pieces=drawn))
    assert found == pytest.approx(6 * 64_000 / (math.sqrt(3) * 208), rel=1e-6)


def test_a_figure_on_the_drawing_is_used_where_it_lies_within(tmp_path: Path, library: Library) -> None:
    """300 A is within six times 77 A and is used; 2 kA is not, and both stay possible."""
    used = value(tmp_path, library, COMPRESSOR, stated=", motor_fault_current: 300 A")
    assert used.number == 300
    open_ = value(tmp_path, library, COMPRESSOR, stated=", motor_fault_current: 2 kA")
    assert open_.number is None
    view = site_view(
        tmp_path,
        library,
        MILL.format(stated=", motor_fault_current: 2 kA", system=WYE, pieces="", complete="yes", loads=COMPRESSOR),
    )
    assert not view.read(Subject("figure", f"site.{FACT}"), "agree").is_exact


def test_they_add_to_what_is_available_at_a_piece(tmp_path: Path, library: Library) -> None:
    """20 kA of the letter, no run described: at most 20 kA + 461.9 A, where it had no end without the loads."""
    text = MILL.format(stated="", system=WYE, pieces="", complete="yes", loads=COMPRESSOR)
    found = site_view(tmp_path, library, text).read(Subject("fault_source", "P1~UTIL"), "available_fault_current").hull
    assert found is not None
    assert found.high is not None
    assert float(found.high) == pytest.approx(20_461.88, abs=0.01)


@pytest.fixture(scope="module")
def numbers() -> NumbersInForce:
    shipped = Library.shipped()
    return standing("nec-2023", shipped.profiles, shipped).on(date(2026, 3, 14)).numbers


@dataclass(frozen=True)
class Built:
    """A load as it is built."""

    kind: str
    motor: bool
    drive: bool
    kva: int
    volts: int
    phases: str

    def amperes(self) -> float:
        """Its full-load current where it is a motor that can feed back."""
        if self.drive or not self.motor:
            return 0.0
        return self.kva * 1000 / (self.volts * (math.sqrt(3) if self.phases == "three" else 1))


def builds() -> st.SearchStrategy[Built]:
    kinds = st.sampled_from(("cooling", "heat_pump", "appliance"))
    lying = st.sampled_from(((277, "one"), (460, "one"), (480, "three"), (460, "three")))
    return st.builds(
        lambda kind, motor, drive, kva, place: Built(kind, motor or kind != "appliance", drive, kva, *place),
        kinds,
        st.booleans(),
        st.booleans(),
        st.integers(2, 90),
        lying,
    )


@st.composite
def written(draw: st.DrawFn, load: Built) -> str:
    """What a drawing says of it, some of it left out or blurred."""

    def said(text: str) -> str:
        return draw(st.sampled_from((text, text, "unknown")))

    power = draw(st.sampled_from((f"{load.kva} kVA", f"{load.kva - 1} kVA to {load.kva + 2} kVA")))
    return (
        f"{{at: P1, load_kind: {said(load.kind)}, load_power: {power},"
        f" motor_driven: {said('yes' if load.motor else 'no')},"
        f" behind_converter: {said('yes' if load.drive else 'no')}, motor_voltage: {said(f'{load.volts} V')},"
        f" motor_phases: {said(load.phases)}}}"
    )


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(data=st.data(), loads=st.lists(builds(), min_size=1, max_size=4), tenths=st.integers(0, 60))
def test_what_is_built_never_feeds_more(
    data: st.DataObject, loads: list[Built], tenths: int, numbers: NumbersInForce, tmp_path: Path
) -> None:
    """Whatever is open, motors of up to six times their current give no more than the end that is printed."""
    path = tmp_path / "site.yaml"
    lines = ", ".join([data.draw(written(load)) for load in loads])
    path.write_text(MILL.format(stated="", system=WYE, pieces="", complete="yes", loads=lines), encoding="utf-8")
    found = most(view_of(read_site(path, shipped_catalog()), shipped_catalog(), numbers).read(SITE, FACT))
    assert found is not None
    assert tenths / 10 * sum(load.amperes() for load in loads) <= found * (1 + 1e-6)

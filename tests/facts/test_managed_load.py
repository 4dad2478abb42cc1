"""What is left on a set while loads are kept off, and which managed loads ever have room: worked by hand."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.facts.view import View
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, one_of
from tests.facts.reading import fact_of, view_under

HOUSE = """
site: {{name: Rush House, stage: plan_review, occupancy: one_family_dwelling, floor_area: 1950 ft2, other_sources: none,
       small_appliance_circuits: 2, laundry_circuits: 1, load_method: {method}, complete: [load_manager]}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 200 A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, capacity: {capacity}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
{manager}loads:
  complete: yes
  list:
    - {{name: kitchen, load_kind: appliance, load_power: 7086 VA, motor_driven: no, at: P1, kept_off: none}}
    - {{name: air conditioner, load_kind: cooling, load_power: 3600 VA, at: P1, kept_off: {cooling}}}
    - {{name: range, load_kind: cooking, load_power: 12 kVA, at: P1, kept_off: {kept_off}, when_control_fails: {fails}}}
"""
MANAGER = "  LM1: {{kind: load_manager, manages: GEN1, set_point: {set_point}}}\n"
BASE = {
    "method": "optional",
    "capacity": "100 A",
    "set_point": "80 A",
    "kept_off": "until_it_fits",
    "cooling": "none",
    "fails": "stays_off",
}

WITHOUT_RANGE = Fraction("69.06")
"""(10 000 + 0.4 x (5850 + 4500 + 7086 - 10 000) + 3600 of cooling) / 240, by 220.82 of 2020."""
WITHOUT_COOLING = Fraction("54.06")
"""The same without 3600 VA of cooling at 240 V."""
EVERYTHING = Fraction("89.06")
"""0.4 x 12 000 VA of the range more."""

Ends = tuple[Fraction | None, Fraction | None]


def house(folder: Path, library: Library, **but: str) -> View:
    words = {**BASE, **but}
    manager = but.get("manager", MANAGER).format(**words)
    return view_under("nec-2020", HOUSE.format(**{**words, "manager": manager}), folder, library)


def ends(value: Possible) -> Ends:
    """Both ends in amperes to two decimals."""
    hull = value.hull
    assert hull is not None
    low, high = (None if end is None else Fraction(round(end * 100), 100) for end in (hull.low, hull.high))
    return low, high


def left(folder: Path, library: Library, **but: str) -> Possible:
    return fact_of(house(folder, library, **but), "GEN1", "managed_load")


def range_fits(folder: Path, library: Library, **but: str) -> Possible:
    view = house(folder, library, **but)
    (found,) = (each for each in view.ground.site.members("loads").members if view.read(each, "name").atom == "range")
    return view.read(found, "ever_fits")


@pytest.mark.parametrize(
    ("but", "amperes"),
    [
        pytest.param({"kept_off": "while_the_set_runs"}, (WITHOUT_RANGE, WITHOUT_RANGE), id="kept off for good"),
        pytest.param({"kept_off": "none"}, (EVERYTHING, EVERYTHING), id="nothing kept off"),
        pytest.param({}, (WITHOUT_RANGE, Fraction(80)), id="put on up to the set point"),
        pytest.param(
            {"set_point": "60 A"}, (WITHOUT_RANGE, WITHOUT_RANGE), id="what is always on passes the set point"
        ),
        pytest.param({"set_point": "none"}, (WITHOUT_RANGE, None), id="no set point"),
        pytest.param({"set_point": "unknown"}, (WITHOUT_RANGE, None), id="set point not known"),
        pytest.param({"set_point": "70 A or 80 A"}, (WITHOUT_RANGE, Fraction(80)), id="set point not decided"),
        pytest.param({"fails": "comes_on"}, (WITHOUT_RANGE, EVERYTHING), id="comes on when the control fails"),
        pytest.param({"fails": "unknown"}, (WITHOUT_RANGE, EVERYTHING), id="not known what it does then"),
        pytest.param(
            {"kept_off": "while_the_set_runs", "fails": "comes_on"},
            (WITHOUT_RANGE, EVERYTHING),
            id="kept off, yet fails on",
        ),
        pytest.param({"cooling": "unknown"}, (WITHOUT_RANGE, Fraction(80)), id="what keeps it off has to be said"),
        pytest.param({"cooling": "until_it_fits"}, (WITHOUT_COOLING, Fraction(80)), id="two are put on"),
        pytest.param(
            {"cooling": "until_it_fits", "set_point": "60 A"},
            (WITHOUT_COOLING, WITHOUT_RANGE),
            id="what may stay on passes the set point",
        ),
    ],
)
def test_what_is_left(but: dict[str, str], amperes: Ends, tmp_path: Path, library: Library) -> None:
    assert ends(left(tmp_path, library, **but)) == amperes


def test_the_greater_of_two_set_points_counts_and_one_unknown_leaves_it_open(tmp_path: Path, library: Library) -> None:
    second = MANAGER + "  LM2: {{kind: load_manager, manages: GEN1, set_point: {second}}}\n"
    assert ends(left(tmp_path, library, manager=second, second="85 A")) == (WITHOUT_RANGE, Fraction(85))
    assert ends(left(tmp_path, library, manager=second, second="unknown")) == (WITHOUT_RANGE, None)


def test_load_management_of_another_set_does_not_count(tmp_path: Path, library: Library) -> None:
    elsewhere = (
        "  GEN2: {{kind: generator, system: 120/240 V 1-phase 3-wire}}\n"
        "  LM2: {{kind: load_manager, manages: GEN2, set_point: {set_point}}}\n"
    )
    assert ends(left(tmp_path, library, manager=elsewhere)) == (WITHOUT_RANGE, None)


@pytest.mark.parametrize(
    "but",
    [
        pytest.param({"manager": "", "kept_off": "none"}, id="nothing manages"),
        pytest.param({"method": "measured_demand"}, id="a record of demand"),
    ],
)
def test_where_it_says_nothing_there_is_no_number(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    found = left(tmp_path, library, **but)
    assert not found.has_value
    assert len(found.undefined) == 1


@pytest.mark.parametrize(
    ("capacity", "fits"),
    [("119.05 A", False), ("119.06 A", True), ("100 A to 130 A", None), ("at least 120 A", True), ("unknown", None)],
)
def test_a_load_fits_where_its_whole_rating_has_room_beside_what_is_always_on(
    capacity: str, fits: bool | None, tmp_path: Path, library: Library
) -> None:
    """12 000 VA / 240 V = 50 A beside 69.06 A, exactly."""
    assert range_fits(tmp_path, library, capacity=capacity).atom is fits


def test_what_is_managed_too_does_not_take_the_room(tmp_path: Path, library: Library) -> None:
    """50 A beside 54.06 A: the air conditioner waits as well."""
    assert range_fits(tmp_path, library, capacity="104.06 A", cooling="until_it_fits").atom is True
    assert range_fits(tmp_path, library, capacity="104.06 A").atom is False


@pytest.mark.parametrize(("places", "told"), [((1, 1), ["air conditioner, range"]), ((1, 2), []), ((2, 1), [])])
def test_the_worksheet_names_loads_that_share_a_place(
    places: tuple[int, int], told: list[str], tmp_path: Path, library: Library
) -> None:
    cooling, kept_off = (f"until_it_fits, priority: {place}" for place in places)
    view = house(tmp_path, library, cooling=cooling, kept_off=kept_off)
    sheet = view.known(view.ground.drawing.pieces["GEN1"], "managed_load").worksheet
    assert sheet is not None
    assert [line.value for line in sheet.lines if line.quantity == "same place in the order"] == told


def test_the_steps_are_left_out_where_one_load_may_be_kept_off_for_good(tmp_path: Path, library: Library) -> None:
    assert not _steps(house(tmp_path, library, cooling="until_it_fits or while_the_set_runs"))
    assert _steps(house(tmp_path, library, cooling="until_it_fits"))


def _steps(view: View) -> list[str]:
    """The steps that the worksheet tells after the source has taken over."""
    sheet = view.known(view.ground.drawing.pieces["GEN1"], "managed_load").worksheet
    assert sheet is not None
    return [line.quantity for line in sheet.lines if line.quantity == "air conditioner put on"]


@pytest.mark.parametrize(
    ("edition", "listing", "counts"),
    [
        # 702.4 of 2017 and 2020 names no listing; 750.6 of 2023 wants one; 130.2 of 2026 one as a power control system.
        ("2020", "listed: no, listed_as_power_control: no", [True]),
        ("2023", "listed: no, listed_as_power_control: no", [False]),
        ("2023", "listed: yes, listed_as_power_control: no", [True]),
        ("2023", "listed_as_power_control: no", [True, False]),
        ("2026", "listed: yes, listed_as_power_control: no", [False]),
        ("2026", "listed: yes, listed_as_power_control: yes", [True]),
        ("2026", "listed: yes", [True, False]),
    ],
)
def test_what_load_management_keeps_off_counts_where_it_has_the_listing_that_the_edition_wants(
    edition: str, listing: str, counts: list[bool], tmp_path: Path, library: Library
) -> None:
    text = HOUSE.format(**{**BASE, "manager": f"  LM1: {{kind: load_manager, manages: GEN1, {listing}}}\n"})
    view = view_under(f"nec-{edition}", text, tmp_path, library)
    assert fact_of(view, "LM1", "reduction_counts") == one_of(counts)

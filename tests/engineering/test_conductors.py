"""How conductors behave: what is hotter, longer or more crowded never carries more, and limits hold at their edges."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Calculation, Direction, OutsideLimits
from checker.engineering.conductors.ampacity import (
    AMPACITY,
    AmpacityCase,
    Conductors,
    Surroundings,
    ampacity,
    smallest_size,
)
from checker.engineering.conductors.bonding import (
    BONDING_JUMPER,
    ELECTRODE_CONDUCTOR,
    WATER_PIPE_BOND,
    ElectrodeCase,
    JumperCase,
    PhaseConductors,
    WaterPipeCase,
    bonding_jumper,
    electrode_conductor,
    water_pipe_bond,
)
from checker.engineering.conductors.counting import CountedCircuit, current_carrying
from checker.engineering.conductors.grounding import (
    EQUIPMENT_GROUNDING_CONDUCTOR,
    GroundedCircuit,
    equipment_grounding_conductor,
)
from checker.engineering.conductors.motor import MOTOR_CONDUCTORS
from checker.engineering.conductors.raceway_fill import RACEWAY_FILL, Filled, raceway_fill, that_fit
from checker.engineering.conductors.tables import size_with_area
from checker.engineering.conductors.terminals import roof_adder, terminal_column
from checker.engineering.conductors.voltage_drop import (
    DROP_IN_PERCENT,
    VOLTAGE_DROP_BY_AREA,
    VOLTAGE_DROP_BY_IMPEDANCE,
    effective_impedance,
)
from checker.values.arithmetic import rounded
from checker.values.possible import between, number
from checker.values.wire_sizes import SIZES, WireSize
from tests.published import conductor_numbers as numbers
from tests.published import conductor_tables as shared
from tests.published.conductor_tables import sized

EDITIONS = st.sampled_from(shared.EDITIONS)
IN_TABLE = tuple(size for size in SIZES.values() if sized("8") <= size <= sized("1000"))
SIZES_IN_TABLE = st.sampled_from(IN_TABLE)
METALS = st.sampled_from(("copper", "aluminum", "copper_clad_aluminum"))
COLUMNS = st.sampled_from((60, 75, 90)).map(Fraction)
AMPERES = st.integers(1, 5000).map(Fraction)
MORE = st.integers(1, 500).map(Fraction)


def cases() -> st.SearchStrategy[AmpacityCase]:
    conductors = st.builds(Conductors, SIZES_IN_TABLE, METALS, COLUMNS, st.integers(1, 4))
    around = st.builds(Surroundings, st.integers(-10, 40).map(Fraction), st.integers(1, 45))
    return st.builds(AmpacityCase, conductors, around, COLUMNS, EDITIONS.map(numbers.ampacity_tables))


def value(case: AmpacityCase) -> Fraction:
    """The ampacity; nothing where the insulation is too hot to carry any."""
    try:
        return ampacity(case).value
    except OutsideLimits:
        return Fraction(0)


def around(case: AmpacityCase, **more: Fraction | int) -> AmpacityCase:
    found = {name: getattr(case.surroundings, name) + add for name, add in more.items()}
    return replace(case, surroundings=replace(case.surroundings, **found))


@given(cases(), st.integers(1, 40))
def test_ampacity_moves_as_it_says(case: AmpacityCase, more: int) -> None:
    raised: Mapping[str, AmpacityCase] = {
        "ambient": around(case, ambient=Fraction(more)),
        "roof_adder": around(case, roof_adder=Fraction(more)),
        "count": around(case, count=more),
        "sets": replace(case, conductors=replace(case.conductors, sets=case.conductors.sets + more)),
    }
    assert raised.keys() == AMPACITY.directions.keys()
    for name, greater in raised.items():
        if AMPACITY.directions[name] is Direction.RISES:
            assert value(case) <= value(greater)
        else:
            assert value(case) >= value(greater)


@given(cases())
def test_a_larger_size_carries_more_and_terminals_never_help(case: AmpacityCase) -> None:
    place = IN_TABLE.index(case.conductors.size)
    for size in IN_TABLE[place + 1 : place + 2]:
        assert value(case) <= value(replace(case, conductors=replace(case.conductors, size=size)))
    assert value(case) <= value(replace(case, terminals=Fraction(90)))
    table = case.tables.ampacities
    column = min(case.terminals, case.conductors.insulation)
    at_terminals = table.of(case.conductors.size, case.conductors.material, column)
    assert value(case) <= case.conductors.sets * at_terminals


@given(cases(), st.integers(1, 40))
def test_a_roof_counts_as_warmer_surroundings_and_sets_as_so_many_times_one(case: AmpacityCase, more: int) -> None:
    assert value(around(case, roof_adder=more)) == value(around(case, ambient=more))
    one = value(replace(case, conductors=replace(case.conductors, sets=1)))
    assert value(case) == rounded(case.conductors.sets * one)


@given(cases(), AMPERES)
def test_the_smallest_size_is_the_smallest_that_carries_enough(case: AmpacityCase, needed: Fraction) -> None:
    try:
        size = smallest_size(case, needed)
    except OutsideLimits:
        largest = replace(case, conductors=replace(case.conductors, size=sized("1000")))
        assert value(largest) < needed
        return
    for each in IN_TABLE:
        enough = value(replace(case, conductors=replace(case.conductors, size=each))) >= needed
        assert enough is (each >= size)


def test_a_short_bundle_is_not_adjusted() -> None:
    """24 in. at most: a nipple (310.15(B)(3)(a)(2) of 2017, 310.15(C)(1)(b) later; from memory)."""
    factors = replace(shared.count_factors("2020"), shortest=Fraction(2))
    assert factors.of(9, Fraction(2)) == 1
    assert factors.of(9, Fraction(201, 100)) == Fraction(7, 10)
    assert factors.of(9, None) == Fraction(7, 10)


def test_insulation_that_is_too_hot_has_no_factor() -> None:
    case = numbers.at_thirty_degrees("3", "copper", 60)
    with pytest.raises(OutsideLimits, match="60 °C insulation at 56 °C"):
        ampacity(around(case, ambient=Fraction(26)))
    with pytest.raises(OutsideLimits, match="no ampacity for 14 AWG aluminum"):
        ampacity(numbers.at_thirty_degrees("14", "aluminum", 75))
    with pytest.raises(OutsideLimits, match="no column of 200 °C"):
        ampacity(numbers.at_thirty_degrees("14", "copper", 200))


@pytest.mark.parametrize(
    ("markings", "circuit", "column"),
    [
        ((None, None), 100, 60),
        ((None, None), 101, 75),
        ((75, None), 100, 60),
        ((75, 75), 100, 75),
        ((75, 90), 200, 75),
        ((60, 75), 200, 60),
        ((), 60, 60),
    ],
)
def test_the_lesser_of_the_terminals_counts(markings: tuple[int | None, ...], circuit: int, column: int) -> None:
    exact = tuple(None if each is None else Fraction(each) for each in markings)
    assert terminal_column(exact, Fraction(circuit), sized("3"), numbers.TERMINALS) == column


@pytest.mark.parametrize(("size", "column"), [("1", 60), ("1/0", 75)])
def test_without_a_rating_the_size_decides_the_terminals(size: str, column: int) -> None:
    assert terminal_column((None,), None, sized(size), numbers.TERMINALS) == column


@given(st.integers(0, 50), st.integers(0, 50))
def test_a_roof_adds_less_higher_up(height: int, more: int) -> None:
    for rows in (numbers.ROOFS_OF_2008, numbers.ROOFS_SINCE_2017):
        low, high = (
            roof_adder(numbers.INCH * Fraction(each, 2), rows, insulation_is_exempt=False)
            for each in (height, height + more)
        )
        assert low >= high


# --- grounding and bonding --------------------------------------------------------------------------------------------


@given(
    st.integers(15, 4000).map(Fraction),
    st.sampled_from(("copper", "aluminum")),
    SIZES_IN_TABLE,
    SIZES_IN_TABLE,
    st.integers(1, 4),
    MORE,
)
def test_a_grounding_conductor_rises_with_its_device_and_with_its_phase_conductors(
    device: Fraction, metal: str, smallest: WireSize, installed: WireSize, sets: int, more: Fraction
) -> None:
    table = numbers.equipment_grounding("2020", metal)
    case = GroundedCircuit(device, installed, smallest, sets, table)
    if sized_or_none(case) is None:
        return
    found = equipment_grounding_conductor(case)
    assert found.value == found.size.circular_mils
    assert found.size <= sizes_up_to(sets * installed.circular_mils)
    base = table.of(device)
    assert base is not None
    assert found.size >= min(base, installed)
    if device + more <= 4000:
        greater = replace(case, device=device + more)
        assert set(EQUIPMENT_GROUNDING_CONDUCTOR.directions) == {"device"}
        assert sized_or_none(greater) is None or found.size <= equipment_grounding_conductor(greater).size
    for larger in IN_TABLE[IN_TABLE.index(installed) :]:
        size = sized_or_none(replace(case, installed=larger))
        assert size is None or found.size <= size


def sizes_up_to(area: Fraction) -> WireSize:
    """The smallest size with this area, or the largest there is."""
    return next((size for size in SIZES.values() if size.circular_mils >= area), SIZES["2000 kcmil"])


def sized_or_none(case: GroundedCircuit) -> WireSize | None:
    try:
        return equipment_grounding_conductor(case).size
    except OutsideLimits:
        return None


def test_a_grounding_conductor_is_not_larger_than_its_circuit() -> None:
    """30 A and 10 AWG enlarged to 4 AWG: by as much larger it would be 4 AWG too (250.122(A) and (B)); constructed."""
    table = numbers.equipment_grounding("2020", "copper")
    case = GroundedCircuit(Fraction(30), sized("4"), sized("10"), 1, table)
    assert equipment_grounding_conductor(case).size == sized("4")
    odd = replace(case, device=Fraction(200), installed=sized("8"), smallest=sized("8"))
    assert equipment_grounding_conductor(odd).size == sized("8")
    assert equipment_grounding_conductor(replace(odd, same_metal=False)).size == sized("6")
    with pytest.raises(OutsideLimits, match="6001 A"):
        equipment_grounding_conductor(replace(case, device=Fraction(6001)))


@given(SIZES_IN_TABLE, st.integers(1, 6), st.integers(1, 4), METALS, METALS, EDITIONS)
def test_electrode_conductors_and_jumpers_rise_with_the_phase_conductors(
    size: WireSize, sets: int, more: int, phase_metal: str, metal: str, edition: str
) -> None:
    one, many = PhaseConductors(size, sets), PhaseConductors(size, sets + more)
    table = shared.by_area("electrode-conductors", edition, phase_metal, metal)
    low, high = (electrode_conductor(ElectrodeCase(each, table)) for each in (one, many))
    assert low.size <= high.size
    assert "sets" in ELECTRODE_CONDUCTOR.directions
    limited = electrode_conductor(ElectrodeCase(many, table, sized("6")))
    assert limited.size == min(high.size, sized("6"))
    jumpers = shared.by_area("bonding-jumpers", edition, metal, metal)
    first = bonding_jumper(JumperCase(one, jumpers, Fraction(1, 8)))
    second = bonding_jumper(JumperCase(many, jumpers, Fraction(1, 8)))
    third = bonding_jumper(JumperCase(one, jumpers, Fraction(1, 4)))
    assert first.size <= second.size
    assert first.size <= third.size
    assert {"sets", "share_above", "area_in_its_metal"} == BONDING_JUMPER.directions.keys()
    bonds = [water_pipe_bond(WaterPipeCase(each, jumpers, sized("3/0"))) for each in (one, many)]
    assert bonds[0].size <= bonds[1].size <= sized("3/0")
    assert "sets" in WATER_PIPE_BOND.directions


def test_a_jumper_above_the_table_has_an_eighth_of_the_area() -> None:
    table = shared.by_area("bonding-jumpers", "2020", "copper", "copper")
    at_end = JumperCase(PhaseConductors(WireSize("1100 kcmil", Fraction(1100))), table, Fraction(1, 8))
    assert bonding_jumper(at_end).size == sized("2/0")
    above = replace(at_end, phase=PhaseConductors(sized("600"), 2))
    assert bonding_jumper(above).size == sized("3/0")
    other = replace(above, metals_differ=True, area_in_its_metal=Fraction(2_000_000))
    assert bonding_jumper(other).size == sized("250")
    with pytest.raises(OutsideLimits, match="two metals"):
        bonding_jumper(replace(above, metals_differ=True))


@given(st.integers(1_200_000, 8_000_000).map(Fraction), MORE)
def test_a_jumper_of_another_metal_rises_with_the_area_of_its_own(area: Fraction, more: Fraction) -> None:
    table = shared.by_area("bonding-jumpers", "2020", "aluminum", "copper")
    phase = PhaseConductors(sized("1000"), 3)
    case = JumperCase(phase, table, Fraction(1, 8), metals_differ=True, area_in_its_metal=area)
    greater = replace(case, area_in_its_metal=area + more)
    assert bonding_jumper(case).size <= bonding_jumper(greater).size


def test_a_grounded_conductor_is_not_larger_than_the_phase_conductors() -> None:
    table = shared.by_area("bonding-jumpers", "2020", "copper", "copper")
    small = JumperCase(PhaseConductors(sized("12")), table, Fraction(1, 8))
    assert bonding_jumper(small).size == sized("8")
    assert bonding_jumper(replace(small, is_grounded_conductor=True)).size == sized("12")


def test_there_is_no_wire_past_the_largest() -> None:
    assert size_with_area(Fraction(2_000_000)) == SIZES["2000 kcmil"]
    with pytest.raises(OutsideLimits, match="2100 kcmil"):
        size_with_area(Fraction(2_100_000))


# --- fill and voltage drop --------------------------------------------------------------------------------------------


@given(st.lists(AMPERES, min_size=1, max_size=9), AMPERES, MORE)
def test_fill_rises_with_each_conductor_and_falls_with_the_raceway(
    areas: list[Fraction], inside: Fraction, more: Fraction
) -> None:
    fill = raceway_fill(Filled(areas, inside)).value
    assert fill <= raceway_fill(Filled([*areas[:-1], areas[-1] + more], inside)).value
    assert fill >= raceway_fill(Filled(areas, inside + more)).value
    assert fill < raceway_fill(Filled([*areas, more], inside)).value
    assert set(RACEWAY_FILL.directions) == {"areas", "inside"}


def test_fill_and_how_many_fit() -> None:
    """Three conductors of 0.2 in2 in a raceway of 1.5 in2, and how many of 0.1 in2 fill 40 % of it; constructed."""
    assert raceway_fill(Filled((Fraction("0.2"),) * 3, Fraction("1.5"))).value == Fraction(2, 5)
    with pytest.raises(OutsideLimits, match="inside"):
        raceway_fill(Filled((), Fraction(0)))
    of = {
        inside: that_fit(Fraction(1, 10), Fraction(inside), Fraction(2, 5), Fraction(4, 5))
        for inside in ("1.69", "1.7")
    }
    assert of == {"1.69": 6, "1.7": 7}
    with pytest.raises(OutsideLimits, match="needs an area"):
        that_fit(Fraction(0), Fraction(1), Fraction(2, 5), Fraction(4, 5))


def drop_inputs(calculation: Calculation) -> st.SearchStrategy[dict[str, Fraction]]:
    strategies: dict[str, st.SearchStrategy[Fraction]] = {
        each.name: st.integers(1, 2000).map(Fraction) for each in calculation.inputs
    }
    if "phases" in strategies:
        strategies["phases"] = st.sampled_from((1, 3)).map(Fraction)
    if "power_factor" in strategies:
        strategies["power_factor"] = st.integers(1, 100).map(lambda each: Fraction(each, 100))
    return st.fixed_dictionaries(strategies)


@pytest.mark.parametrize(
    "calculation",
    [VOLTAGE_DROP_BY_AREA, VOLTAGE_DROP_BY_IMPEDANCE, DROP_IN_PERCENT, MOTOR_CONDUCTORS],
    ids=lambda c: c.name,
)
@given(data=st.data(), more=MORE)
def test_calculations_move_as_they_say(calculation: Calculation, data: st.DataObject, more: Fraction) -> None:
    point = data.draw(drop_inputs(calculation))
    for each in calculation.inputs:
        if each.direction is Direction.NEITHER:
            continue
        low, high = calculation.at(point), calculation.at(point | {each.name: point[each.name] + more})
        assert low <= high if each.direction is Direction.RISES else low >= high


def test_bounds_of_a_voltage_drop_come_from_its_corners() -> None:
    known = {name: number(value) for name, value in {"constant": 13, "area": 52_620, "sets": 1, "phases": 1}.items()}
    found = VOLTAGE_DROP_BY_AREA.over(known | {"current": between(10, 20), "length": between(100, 200)})
    ends = [
        VOLTAGE_DROP_BY_AREA.at(
            {"constant": Fraction(13), "area": Fraction(52_620), "sets": Fraction(1), "phases": Fraction(1)}
            | {"current": Fraction(current), "length": Fraction(length)}
        )
        for current, length in ((10, 100), (20, 200))
    ]
    hull = found.hull
    assert hull is not None
    assert [hull.low, hull.high] == ends


GOOD = {
    "constant": Fraction(13),
    "resistance": Fraction(1),
    "reactance": Fraction(1),
    "power_factor": Fraction(1),
    "current": Fraction(10),
    "length": Fraction(10),
    "area": Fraction(4110),
    "sets": Fraction(1),
    "phases": Fraction(1),
    "drop": Fraction(1),
    "voltage": Fraction(120),
}


@pytest.mark.parametrize(
    ("calculation", "wrong"),
    [
        *((VOLTAGE_DROP_BY_AREA, {name: value}) for name, value in (("phases", 2), ("sets", 0), ("area", 0))),
        *((VOLTAGE_DROP_BY_IMPEDANCE, {name: value}) for name, value in (("power_factor", -1), ("resistance", -1))),
        (VOLTAGE_DROP_BY_IMPEDANCE, {"power_factor": Fraction(101, 100)}),
        (VOLTAGE_DROP_BY_AREA, {"current": -1}),
        (DROP_IN_PERCENT, {"voltage": 0}),
        (DROP_IN_PERCENT, {"drop": -1}),
    ],
    ids=lambda each: str(each) if isinstance(each, dict) else each.name,
)
def test_limits_of_a_voltage_drop(calculation: Calculation, wrong: dict[str, int]) -> None:
    with pytest.raises(OutsideLimits):
        calculation.at(GOOD | {name: Fraction(each) for name, each in wrong.items()})


@given(st.integers(1, 100), st.integers(1, 100))
def test_the_effective_impedance_is_at_most_the_impedance(resistance: int, reactance: int) -> None:
    """R pf + X sin is the vector (R, X) seen along the current; it is longest along the vector itself."""
    r, x = Fraction(resistance), Fraction(reactance)
    seen = [effective_impedance(r, x, Fraction(step, 20)) for step in range(1, 21)]
    assert all(each * each <= r * r + x * x for each in seen)
    assert seen[-1] == r
    signs = [later >= earlier for earlier, later in pairwise(seen)]
    assert signs == sorted(signs, reverse=True)  # it rises to the angle of the impedance and falls past it


# --- counting ---------------------------------------------------------------------------------------------------------

HALF = Fraction(1, 2)


@pytest.mark.parametrize(
    ("circuit", "count"),
    [
        (CountedCircuit(2, True, "split", None), 2),
        (CountedCircuit(1, True, "split", None), 2),
        (CountedCircuit(2, True, "wye_legs", Fraction(0)), 3),
        (CountedCircuit(3, True, "wye", Fraction(0)), 3),
        (CountedCircuit(3, True, "wye", HALF), 3),
        (CountedCircuit(3, True, "wye", Fraction(51, 100)), 4),
        (CountedCircuit(3, True, "wye", None), 4),
        (CountedCircuit(3, False, "delta", None), 3),
        (CountedCircuit(3, False, "wye", None), 3),
        (CountedCircuit(2, True, "split", None, 2), 4),
    ],
)
def test_a_neutral_counts_where_it_carries_current(circuit: CountedCircuit, count: int) -> None:
    """310.15(E) of NFPA 70 ((B)(5) in 2017); trade articles, from memory."""
    assert current_carrying(circuit, HALF) == count


def test_a_circuit_has_a_conductor() -> None:
    with pytest.raises(OutsideLimits):
        current_carrying(CountedCircuit(0, True, "wye", None), HALF)


@pytest.mark.parametrize("calculation", [VOLTAGE_DROP_BY_AREA, VOLTAGE_DROP_BY_IMPEDANCE], ids=lambda each: each.name)
@given(data=st.data(), sets=st.integers(1, 6))
def test_phases_and_sets_of_a_voltage_drop(calculation: Calculation, data: st.DataObject, sets: int) -> None:
    """Three phases lose the root of three where one loses two; conductors in parallel share the current."""
    one = data.draw(drop_inputs(calculation)) | {"sets": Fraction(1), "phases": Fraction(1)}
    drop = calculation.at(one)
    many = calculation.at(one | {"sets": Fraction(sets)})
    three = calculation.at(one | {"phases": Fraction(3)})
    assert float(many) == pytest.approx(float(drop) / sets)
    assert float(three) == pytest.approx(float(drop) * math.sqrt(3) / 2)

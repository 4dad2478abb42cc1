"""Fault currents against circuits solved by hand in complex numbers, and how they behave with every input."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.asymmetry import multiplying_factor
from checker.engineering.faults.generator_bounds import faults_of, greatest_fault, least_fault
from checker.engineering.faults.generator_decay import CURRENT_AFTER, DecayCase, current_after
from checker.engineering.faults.generators import (
    GENERATOR_FAULT,
    Generator,
    GeneratorCase,
    Period,
    Reactances,
    Side,
    generator_fault,
    generator_loop,
    rated_current,
)
from checker.engineering.faults.loops import (
    Available,
    Fault,
    FaultCurrent,
    Loop,
    current_of,
    driving_voltage,
    loop_of,
)
from checker.engineering.faults.motors import (
    MOTOR_CONTRIBUTION,
    Motors,
    motor_contribution,
    motor_loop,
)
from checker.engineering.faults.point_to_point import POINT_TO_POINT, PointToPoint, Segment, point_to_point
from checker.engineering.faults.ratings import (
    deciding,
    faults_there,
    rating_holds,
)
from checker.engineering.faults.runs import (
    FAULT_PAST_RUNS,
    Run,
    RunsCase,
    fault_past_runs,
    greatest_past,
    least_past,
)
from checker.engineering.faults.together import FAULT_OF_ALL, ClosedTogether, fault_of_all, plain_sum
from checker.engineering.faults.transformers import (
    SECONDARY_FAULT,
    HalfWinding,
    Primary,
    Transformer,
    TransformerCase,
    secondary_fault,
    secondary_loop,
)
from checker.engineering.faults.tripping import Trip, Tripping, tripping
from checker.engineering.faults.withstand import Protection, WithstandRow, switch_withstands
from checker.engineering.impedance import Impedance, split
from checker.engineering.powers import exponential, square_root
from checker.values.truth import Truth

MILLIOHMS = st.integers(1, 500).map(lambda each: Fraction(each, 1000))
IMPEDANCES = st.builds(Impedance, MILLIOHMS, MILLIOHMS)
RATIOS = st.one_of(st.none(), st.integers(0, 200).map(lambda each: Fraction(each, 10)))
AMPERES = st.integers(100, 100_000).map(Fraction)
SHARES = st.integers(1, 300).map(lambda each: Fraction(each, 100))
FAULTS = st.sampled_from(Fault)
MORE = st.integers(1, 100).map(lambda each: Fraction(each, 10))


def vector(impedance: Impedance) -> complex:
    return complex(float(impedance.resistance), float(impedance.reactance))


def close(found: Fraction, wanted: float) -> None:
    assert float(found) == pytest.approx(wanted, rel=1e-8)


# --- the independent model: phases, not loops ------------------------------------------------------------------------


def solved(matrix: list[list[complex]], right: list[complex]) -> list[complex]:
    """Gauss with pivots: enough for the few unknowns of a fault."""
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    size = len(rows)
    for place in range(size):
        pivot = max(range(place, size), key=lambda row: abs(rows[row][place]))
        rows[place], rows[pivot] = rows[pivot], rows[place]
        for row in range(place + 1, size):
            factor = rows[row][place] / rows[place][place]
            rows[row] = [a - factor * b for a, b in zip(rows[row], rows[place], strict=True)]
    found = [0j] * size
    for place in reversed(range(size)):
        rest = sum(rows[place][column] * found[column] for column in range(place + 1, size))
        found[place] = (rows[place][size] - rest) / rows[place][place]
    return found


def phase_model(volts: float, z1: complex, z0: complex, run: complex, neutral: complex, fault: Fault) -> float:
    """Greatest phase current of a fault by Kirchhoff's laws in three phases.

    A balanced source with phase electromotive forces, its impedance as a matrix with ``zs`` on and ``zm`` off the
    diagonal (z1 = zs - zm, z0 = zs + 2 zm), a run in each phase and a neutral. Unknown are the three phase currents and
    the voltage of the point of the fault over the neutral of the source.
    """
    zs, zm = (2 * z1 + z0) / 3, (z0 - z1) / 3
    forces = [cmath.rect(volts / math.sqrt(3), -2 * math.pi * phase / 3) for phase in range(3)]
    faulted = {Fault.THREE_PHASE: (0, 1, 2), Fault.LINES: (0, 1), Fault.LINE_AND_NEUTRAL: (0,)}[fault]
    matrix, right = [], []
    for phase in range(3):
        row = [zs + run if other == phase else zm for other in range(3)]
        if phase in faulted:
            matrix.append([*row, 1 + 0j])
            right.append(forces[phase])
        else:
            matrix.append([complex(other == phase) for other in range(3)] + [0j])
            right.append(0j)
    if fault is Fault.LINE_AND_NEUTRAL:
        matrix.append([-neutral, -neutral, -neutral, 1 + 0j])
    else:
        matrix.append([1 + 0j, 1 + 0j, 1 + 0j, 0j])
    right.append(0j)
    return max(abs(current) for current in solved(matrix, right)[:3])


@given(
    st.sampled_from((208, 240, 480, 600)),
    st.integers(30_000, 2_500_000),
    st.integers(10, 80),
    RATIOS,
    st.integers(50, 150),
    st.integers(1_000_000, 500_000_000),
    RATIOS,
    st.integers(0, 500),
    IMPEDANCES,
    IMPEDANCES,
    FAULTS,
)
def test_transformer_and_run_against_three_phases_by_hand(
    volts: int,
    rating: int,
    permille: int,
    ratio: Fraction | None,
    zero: int,
    power: int,
    utility_ratio: Fraction | None,
    length: int,
    phase: Impedance,
    neutral: Impedance,
    fault: Fault,
) -> None:
    between = Fraction(volts)
    transformer = Transformer(
        Fraction(rating),
        Fraction(permille, 1000),
        Fraction(9, 10),
        ratio,
        3,
        between,
        driving_voltage(Fault.THREE_PHASE, between, None),
        Fraction(zero, 100),
    )
    case = TransformerCase(transformer, Primary(Fraction(power), utility_ratio), fault)
    at_terminals = secondary_fault(case)
    run = Run(Fraction(length), phase, neutral)
    found = fault_past_runs(RunsCase(secondary_loop(case), (run,)))
    own = vector(split(between**2 / rating * Fraction(permille, 1000) * Fraction(9, 10), ratio))
    utility = vector(split(between**2 / power, utility_ratio))
    z1, z0 = own + utility, own * zero / 100
    close(at_terminals.value, phase_model(volts, z1, z0, 0j, 0j, fault))
    along = [vector(each) * length / 1000 for each in (phase, neutral)]
    close(found.value, phase_model(volts, z1, z0, along[0], along[1], fault))
    assert found.fault is at_terminals.fault is fault


@given(st.lists(IMPEDANCES, min_size=1, max_size=4), st.integers(100, 600))
def test_sources_closed_together_against_their_sum_as_vectors(sources: list[Impedance], volts: int) -> None:
    """Currents of all sources into one point, added as complex numbers; the plain sum is never less."""
    loops = tuple(Loop(Fault.THREE_PHASE, Fraction(volts), each) for each in sources)
    found = fault_of_all(ClosedTogether(loops))
    close(found.value, abs(sum(volts / vector(each) for each in sources)))
    assert found.value <= found.step("sum of the currents").value + Fraction(1, 10**3)
    total = plain_sum(tuple(current_of(loop) for loop in loops))
    close(total.value, sum(abs(volts / vector(each)) for each in sources))
    if len(loops) > 1:
        assert found.value >= max(loop.current for loop in loops) - 1
    assert set(FAULT_OF_ALL.directions) == {"current of a source"}


@given(IMPEDANCES, IMPEDANCES, MORE)
def test_a_stronger_source_raises_the_current_of_all(first: Impedance, second: Impedance, more: Fraction) -> None:
    volts = Fraction(277)
    weak = Loop(Fault.THREE_PHASE, volts, first.times(1 + more))
    strong, other = replace(weak, impedance=first), Loop(Fault.THREE_PHASE, volts, second)
    assert fault_of_all(ClosedTogether((weak, other))).value <= fault_of_all(ClosedTogether((strong, other))).value


def test_sources_are_added_for_one_fault_and_one_voltage() -> None:
    loop = Loop(Fault.THREE_PHASE, Fraction(277), Impedance(Fraction(1), Fraction(1)))
    for other in (replace(loop, fault=Fault.LINES), replace(loop, voltage=Fraction(120))):
        with pytest.raises(OutsideLimits, match="one kind of fault"):
            fault_of_all(ClosedTogether((loop, other)))
    with pytest.raises(OutsideLimits, match="No source"):
        fault_of_all(ClosedTogether(()))
    with pytest.raises(OutsideLimits, match="one kind of fault"):
        plain_sum((current_of(loop), current_of(replace(loop, fault=Fault.LINES))))


# --- transformers ----------------------------------------------------------------------------------------------------

HOUSE = Transformer(
    Fraction(75_000),
    Fraction(14, 1000),
    Fraction(9, 10),
    Fraction(3, 2),
    1,
    Fraction(240),
    Fraction(120),
    None,
    HalfWinding(Fraction(3, 2), Fraction(6, 5)),
)
"""75 kVA and 1.4 %, center tapped; half a winding with 1.5 of the resistance and 1.2 of the reactance (handbooks)."""


@given(RATIOS)
def test_half_a_winding_gives_a_third_to_two_thirds_more(ratio: Fraction | None) -> None:
    """Published: line to neutral at the terminals 1.33 to 1.67 times line to line, whatever the X/R."""
    house = replace(HOUSE, x_over_r=ratio)
    lines, neutral = (
        secondary_fault(TransformerCase(house, None, fault)).value for fault in (Fault.LINES, Fault.LINE_AND_NEUTRAL)
    )
    assert Fraction(133, 100) <= neutral / lines <= Fraction(167, 100)


@given(
    st.sampled_from(((HOUSE, Fault.LINES), (HOUSE, Fault.LINE_AND_NEUTRAL))),
    st.integers(1, 100).map(lambda each: Fraction(each, 100)),
    st.integers(1_000_000, 90_000_000).map(Fraction),
    RATIOS,
)
def test_a_transformer_moves_as_it_says(
    told: tuple[Transformer, Fault], more: Fraction, power: Fraction, ratio: Fraction | None
) -> None:
    transformer, fault = told
    primary = Primary(power, ratio)
    case = TransformerCase(transformer, primary, fault)
    raised = {
        name: replace(case, transformer=replace(transformer, **{name: getattr(transformer, name) + more}))
        for name in ("rating", "impedance", "counted_impedance")
    }
    raised["fault_power"] = replace(case, primary=replace(primary, fault_power=power * (1 + more)))
    assert raised.keys() == SECONDARY_FAULT.directions.keys()
    for name, greater in raised.items():
        low, high = secondary_fault(case).value, secondary_fault(greater).value
        assert low <= high if SECONDARY_FAULT.directions[name] is Direction.RISES else low >= high
    assert secondary_fault(case).value <= secondary_fault(replace(case, primary=None)).value


def test_what_a_transformer_assumes_is_said() -> None:
    plain = secondary_fault(TransformerCase(replace(HOUSE, counted_impedance=Fraction(1)), None, Fault.LINES))
    assert len(plain.assumptions) == 2
    known = secondary_fault(TransformerCase(HOUSE, Primary(Fraction(10**7), None), Fault.LINES))
    assert known.assumptions == ()


@pytest.mark.parametrize(
    ("transformer", "primary", "fault", "says"),
    [
        (HOUSE, None, Fault.THREE_PHASE, "no three-phase fault"),
        (replace(HOUSE, half_winding=None), None, Fault.LINE_AND_NEUTRAL, "half the winding"),
        (replace(HOUSE, to_neutral=None), None, Fault.LINE_AND_NEUTRAL, "no neutral"),
        (replace(HOUSE, phases=3), None, Fault.LINE_AND_NEUTRAL, "zero-sequence"),
        (replace(HOUSE, impedance=Fraction(0)), None, Fault.LINES, "above zero"),
        (HOUSE, Primary(Fraction(0), None), Fault.LINES, "fault power"),
        (replace(HOUSE, phases=2), None, Fault.LINES, "one or three phases"),
    ],
)
def test_what_a_transformer_cannot_tell(
    transformer: Transformer, primary: Primary | None, fault: Fault, says: str
) -> None:
    with pytest.raises(OutsideLimits, match=says):
        secondary_fault(TransformerCase(transformer, primary, fault))


# --- runs and points -------------------------------------------------------------------------------------------------


def runs() -> st.SearchStrategy[Run]:
    return st.builds(Run, st.integers(0, 500).map(Fraction), IMPEDANCES, IMPEDANCES, st.integers(1, 4))


@given(AMPERES, RATIOS, FAULTS, runs(), MORE)
def test_a_run_moves_as_it_says(
    amperes: Fraction, ratio: Fraction | None, fault: Fault, run: Run, more: Fraction
) -> None:
    loop = loop_of(Available(fault, amperes, Fraction(240), ratio))
    case = RunsCase(loop, (run,))
    raised = {
        "length": replace(run, length=run.length + more),
        "sets": replace(run, sets=run.sets + 1),
        "resistance": replace(run, phase=run.phase + Impedance(more, Fraction(0))),
        "reactance": replace(run, phase=run.phase + Impedance(Fraction(0), more)),
    }
    assert raised.keys() == FAULT_PAST_RUNS.directions.keys()
    found = fault_past_runs(case).value
    assert found <= amperes + 1
    for name, greater in raised.items():
        after = fault_past_runs(replace(case, runs=(greater,))).value
        assert found <= after if FAULT_PAST_RUNS.directions[name] is Direction.RISES else found >= after


@given(AMPERES, RATIOS, FAULTS, runs())
def test_bounds_hold_whatever_the_ratio_of_the_source(
    amperes: Fraction, ratio: Fraction | None, fault: Fault, run: Run
) -> None:
    available = Available(fault, amperes, Fraction(240), ratio)
    found = fault_past_runs(RunsCase(loop_of(available), (run,))).value
    least, greatest = least_past(available, run), greatest_past(available, run)
    assert least.value - 1 <= found <= greatest.value + 1
    assert least.assumptions
    assert greatest.assumptions


@pytest.mark.parametrize(("resistance", "reactance"), [(1, 10), (10, 1), (1, 1)])
def test_the_greatest_is_reached_at_one_of_the_extremes(resistance: int, reactance: int) -> None:
    """A run of reactance meets a source of resistance, a run of resistance one of reactance: neither bound is idle."""
    run = Run(Fraction(100), Impedance(Fraction(resistance, 50), Fraction(reactance, 50)))
    available = Available(Fault.LINES, Fraction(10_000), Fraction(240), None)
    ratios = [None, *(Fraction(each, 10) for each in range(201))]
    found = [fault_past_runs(RunsCase(loop_of(replace(available, x_over_r=ratio)), (run,))).value for ratio in ratios]
    assert greatest_past(available, run).value == max(found)
    assert least_past(available, run).value <= min(found)
    own = fault_past_runs(RunsCase(loop_of(replace(available, x_over_r=Fraction(reactance, resistance))), (run,)))
    assert least_past(available, run).value == own.value


@given(AMPERES, FAULTS, IMPEDANCES, st.integers(0, 300).map(Fraction), st.integers(1, 4))
def test_points_are_impedances_of_one_angle_and_err_to_the_low_side(
    amperes: Fraction, fault: Fault, each: Impedance, length: Fraction, sets: int
) -> None:
    """f and M with C = 1 / ohms per foot give the least of the vectors, that is both at one angle."""
    volts = Fraction(208)
    available = Available(fault, amperes, driving_voltage(fault, volts, Fraction(120)), None)
    run = Run(length, each, each, sets)
    own = 1000 / each.magnitude
    # The method takes the voltage between lines for a three-phase fault.
    loop_voltage = volts if fault is not Fault.LINE_AND_NEUTRAL else Fraction(120)
    found = point_to_point(PointToPoint(amperes, fault, loop_voltage, (Segment(length, sets, own),)))
    close(found.value, float(least_past(available, run).value))
    assert found.value <= greatest_past(available, run).value + 1
    assert found.fault is fault


@given(
    AMPERES, FAULTS, st.integers(0, 300).map(Fraction), st.integers(1, 4), st.integers(500, 30_000).map(Fraction), MORE
)
def test_points_move_as_they_say(
    amperes: Fraction, fault: Fault, length: Fraction, sets: int, constant: Fraction, more: Fraction
) -> None:
    segment = Segment(length, sets, constant)
    case = PointToPoint(amperes, fault, Fraction(240), (segment, segment))
    raised = {
        "amperes": replace(case, amperes=amperes + more),
        "length": replace(case, segments=(replace(segment, length=length + more), segment)),
        "sets": replace(case, segments=(replace(segment, sets=sets + 1), segment)),
        "constant": replace(case, segments=(replace(segment, constant=constant + more), segment)),
    }
    assert raised.keys() == POINT_TO_POINT.directions.keys()
    for name, greater in raised.items():
        low, high = point_to_point(case).value, point_to_point(greater).value
        assert low <= high if POINT_TO_POINT.directions[name] is Direction.RISES else low >= high


def test_what_a_run_and_a_letter_cannot_tell() -> None:
    loop = loop_of(Available(Fault.LINE_AND_NEUTRAL, Fraction(1000), Fraction(120), None))
    each = Impedance(Fraction(1), Fraction(1))
    for run, says in ((Run(Fraction(10), each), "no neutral"), (Run(Fraction(-1), each, each), "length")):
        with pytest.raises(OutsideLimits, match=says):
            fault_past_runs(RunsCase(loop, (run,)))
    with pytest.raises(OutsideLimits, match="amperes and volts"):
        loop_of(Available(Fault.LINES, Fraction(0), Fraction(120), None))
    with pytest.raises(OutsideLimits, match="opposes"):
        current_of(Loop(Fault.LINES, Fraction(120), Impedance(Fraction(0), Fraction(0))))
    with pytest.raises(OutsideLimits, match="segment"):
        point_to_point(PointToPoint(Fraction(1), Fault.LINES, Fraction(240), (Segment(Fraction(1), 0, Fraction(1)),)))


# --- motors ----------------------------------------------------------------------------------------------------------


@given(st.lists(AMPERES, min_size=1, max_size=5), SHARES, MORE, RATIOS)
def test_what_motors_add(currents: list[Fraction], multiple: Fraction, more: Fraction, ratio: Fraction | None) -> None:
    motors = Motors(currents, multiple)
    added = motor_contribution(motors).value
    assert set(MOTOR_CONTRIBUTION.directions) == {"full_load_currents", "multiple"}
    assert added <= motor_contribution(replace(motors, multiple=multiple + more)).value
    assert added <= motor_contribution(replace(motors, full_load_currents=[*currents, more])).value
    close(motor_loop(motors, Fraction(480), ratio).current, float(added))


def test_motors_that_feed_nothing() -> None:
    """Behind converters motors are left out; then there is no loop. Four times 100 A is 400 A (published multiple)."""
    assert motor_contribution(Motors((), Fraction(4))).value == 0
    assert motor_contribution(Motors((Fraction(60), Fraction(40)), Fraction(4))).value == 400
    with pytest.raises(OutsideLimits, match="No motor"):
        motor_loop(Motors((), Fraction(4)), Fraction(480), None)
    with pytest.raises(OutsideLimits, match="zero or more"):
        motor_contribution(Motors((Fraction(-1),), Fraction(4)))


# --- generators ------------------------------------------------------------------------------------------------------

OWN = Reactances(Fraction("0.12"), Fraction("0.18"), Fraction("2.6"), Fraction("0.15"), Fraction("0.03"))
SET = Generator(Fraction(625_000), 3, Fraction(480), Fraction(277), OWN)
"""625 kVA, 480Y/277, with reactances as data sheets of this size print them (constructed)."""

HOME = Generator(Fraction(22_000), 1, Fraction(240), Fraction(120), replace(OWN, negative=None, zero=None))


def reactances() -> st.SearchStrategy[Reactances]:
    def rising(first: Fraction, then: Fraction, last: Fraction, negative: Fraction, zero: Fraction) -> Reactances:
        return Reactances(first, first + then, first + then + last, negative, zero)

    return st.builds(rising, SHARES, SHARES, SHARES, SHARES, SHARES)


@given(reactances(), st.sampled_from(Period), FAULTS, st.sampled_from(Side))
def test_a_generator_against_symmetrical_components_by_hand(
    own: Reactances, period: Period, fault: Fault, side: Side
) -> None:
    """The phase model with z1 = z2 = x1 does not hold where x2 differs, so this is the textbook's sequence network."""
    generator = replace(
        SET, reactances=own, tolerance=Fraction(15, 100), to_neutral=SET.between_lines / square_root(Fraction(3))
    )
    found = generator_fault(GeneratorCase(generator, period, fault, side))
    x1 = {Period.SUBTRANSIENT: own.subtransient, Period.TRANSIENT: own.transient, Period.SUSTAINED: own.synchronous}
    factor = 1 + 0.15 * side.value
    one, two, zero = (factor * float(each or 0) for each in (x1[period], own.negative, own.zero))
    positive = {
        Fault.THREE_PHASE: 1 / complex(0, one),
        Fault.LINES: 1 / complex(0, one + two),
        Fault.LINE_AND_NEUTRAL: 1 / complex(0, one + two + zero),
    }[fault]
    turn = cmath.rect(1, 2 * math.pi / 3)
    phase = {
        Fault.THREE_PHASE: positive,
        Fault.LINES: positive * (turn**2 - turn),
        Fault.LINE_AND_NEUTRAL: 3 * positive,
    }[fault]
    close(found.value, abs(phase) * float(rated_current(generator)))
    assert found.fault is fault


@given(reactances(), st.sampled_from(Period), FAULTS, MORE)
def test_a_generator_moves_as_it_says(own: Reactances, period: Period, fault: Fault, more: Fraction) -> None:
    case = GeneratorCase(replace(SET, reactances=own), period, fault)
    names = ("subtransient", "transient", "synchronous", "negative", "zero")
    raised = {
        name: replace(case.generator, reactances=replace(own, **{name: getattr(own, name) + more})) for name in names
    }
    raised["rating"] = replace(case.generator, rating=SET.rating + more)
    assert raised.keys() == GENERATOR_FAULT.directions.keys()
    for name, greater in raised.items():
        low, high = generator_fault(case).value, generator_fault(replace(case, generator=greater)).value
        assert low <= high if GENERATOR_FAULT.directions[name] is Direction.RISES else low >= high


@given(reactances(), st.integers(0, 30).map(lambda each: Fraction(each, 100)))
def test_greatest_and_least_hold_every_fault_between_them(own: Reactances, tolerance: Fraction) -> None:
    generator = replace(SET, reactances=own, tolerance=tolerance)
    greatest, least = greatest_fault(generator).value, least_fault(generator).value
    assert greatest >= max(
        generator_fault(GeneratorCase(generator, Period.SUBTRANSIENT, fault)).value for fault in Fault
    )
    assert least <= min(generator_fault(GeneratorCase(generator, Period.SUSTAINED, fault)).value for fault in Fault)


def test_the_greatest_fault_of_a_set_is_to_its_neutral() -> None:
    """x0 is far below x'', so 3 / (x'' + x2 + x0) is above 1 / x'': 10 against 8.3 times the rated current."""
    assert greatest_fault(SET).fault is Fault.LINE_AND_NEUTRAL
    close(greatest_fault(SET).value * SET.between_lines / SET.rating, 3 / 0.30 / 480 * 277)
    assert least_fault(SET).fault is Fault.THREE_PHASE
    close(least_fault(SET).value, float(rated_current(SET)) / 2.6)


def test_what_a_set_does_not_tell_is_asked_or_said() -> None:
    with pytest.raises(OutsideLimits, match="zero-sequence"):
        greatest_fault(replace(SET, reactances=replace(OWN, zero=None)))
    with pytest.raises(OutsideLimits, match="from the maker"):
        greatest_fault(HOME)
    assert greatest_fault(replace(HOME, half_winding=Fraction(3, 2))).fault is Fault.LINE_AND_NEUTRAL
    assert any("to neutral" in each for each in least_fault(HOME).assumptions)
    assert faults_of(replace(HOME, to_neutral=None)) == (Fault.LINES,)
    for missing, period in (("subtransient", Period.SUBTRANSIENT), ("synchronous", Period.SUSTAINED)):
        without = replace(SET, reactances=replace(OWN, **{missing: None}))
        with pytest.raises(OutsideLimits, match=missing):
            generator_fault(GeneratorCase(without, period, Fault.THREE_PHASE))
    assumed = replace(SET, reactances=replace(OWN, negative=None))
    assert any(
        "negative" in each
        for each in generator_fault(GeneratorCase(assumed, Period.TRANSIENT, Fault.LINES)).assumptions
    )
    neither = replace(SET, reactances=replace(OWN, negative=None, subtransient=None))
    with pytest.raises(OutsideLimits, match="negative-sequence"):
        generator_fault(GeneratorCase(neither, Period.TRANSIENT, Fault.LINES))
    with pytest.raises(OutsideLimits, match="no three-phase"):
        generator_fault(GeneratorCase(HOME, Period.TRANSIENT, Fault.THREE_PHASE))
    with pytest.raises(OutsideLimits, match="rating and a voltage"):
        generator_fault(GeneratorCase(replace(SET, rating=Fraction(0)), Period.TRANSIENT, Fault.LINES))
    for wrong in (
        replace(SET, phases=2),
        replace(SET, tolerance=Fraction(1)),
        replace(SET, tolerance=Fraction(-1, 10)),
    ):
        with pytest.raises(OutsideLimits, match="one or three phases"):
            generator_fault(GeneratorCase(wrong, Period.TRANSIENT, Fault.LINES))


def test_an_excitation_that_is_held_up_keeps_three_times_the_current() -> None:
    held = replace(SET, held_up=Fraction(3))
    case = GeneratorCase(held, Period.SUSTAINED, Fault.THREE_PHASE)
    close(generator_fault(case).value, 3 * float(rated_current(SET)))
    first = replace(case, period=Period.SUBTRANSIENT)
    assert generator_fault(first).value == generator_fault(replace(first, generator=SET)).value
    weak = replace(case, generator=replace(SET, held_up=Fraction(1, 10)))
    assert generator_fault(weak).value == generator_fault(replace(case, generator=SET)).value


@given(reactances(), st.integers(0, 500), st.integers(0, 500))
def test_the_current_of_a_set_falls_from_the_first_reactance_to_the_last(own: Reactances, time: int, more: int) -> None:
    generator = replace(SET, reactances=own)

    def after(hundredths: int) -> Fraction:
        return current_after(DecayCase(generator, Fraction(3, 100), Fraction(6, 5), Fraction(hundredths, 100))).value

    assert after(time) >= after(time + more)
    assert set(CURRENT_AFTER.directions) == {"time"}
    for period, found in ((Period.SUBTRANSIENT, after(0)), (Period.SUSTAINED, after(100_000))):
        close(found, float(generator_fault(GeneratorCase(generator, period, Fault.THREE_PHASE)).value))
    held = DecayCase(replace(generator, held_up=Fraction(3)), Fraction(3, 100), Fraction(6, 5), Fraction(1000))
    assert current_after(held).value >= 3 * rated_current(generator) - 1


def test_the_current_of_a_set_needs_reactances_that_rise() -> None:
    falling = replace(SET, reactances=replace(OWN, synchronous=Fraction("0.1")))
    for case in (
        DecayCase(falling, Fraction(1), Fraction(1), Fraction(1)),
        DecayCase(SET, Fraction(0), Fraction(1), Fraction(1)),
        DecayCase(SET, Fraction(1), Fraction(1), Fraction(-1)),
    ):
        with pytest.raises(OutsideLimits, match="rise"):
            current_after(case)


def test_the_utility_and_a_set_while_both_are_closed() -> None:
    """30 kA from the utility and 6.3 kA from the set, both mostly reactance: 36.2 kA and not 30; constructed."""
    utility = loop_of(
        Available(
            Fault.THREE_PHASE, Fraction(30_000), driving_voltage(Fault.THREE_PHASE, Fraction(480), None), Fraction(6)
        )
    )
    set_loop = generator_loop(GeneratorCase(SET, Period.SUBTRANSIENT, Fault.THREE_PHASE))
    both = fault_of_all(ClosedTogether((utility, set_loop))).value
    assert 36_000 < both < 30_000 + set_loop.current


# --- tripping, ratings -----------------------------------------------------------------------------------------------

ORDER = (Trip.NEVER, Trip.NOT_SURELY, Trip.IN_TIME, Trip.AT_ONCE)
BREAKER = Tripping(Fraction(100), Fraction(1000), Fraction(1, 5), Fraction(135, 100))


@pytest.mark.parametrize(
    ("first", "lasting", "trip"),
    [
        (1200, 90, Trip.AT_ONCE),
        (1199, 135, Trip.IN_TIME),
        (1199, 134, Trip.NOT_SURELY),
        (800, 90, Trip.NOT_SURELY),
        (799, 100, Trip.NEVER),
        (799, 101, Trip.NOT_SURELY),
        (700, 38, Trip.NEVER),
    ],
)
def test_whether_a_breaker_trips_at_all(first: int, lasting: int, trip: Trip) -> None:
    assert tripping(Fraction(first), Fraction(lasting), BREAKER).trip is trip


def test_a_small_set_may_never_trip_its_breaker() -> None:
    """A set of 92 A whose field collapses lasts at 35 A: a breaker of 100 A stays closed, and with 300 % it trips."""
    lasting = least_fault(HOME).value
    first = generator_fault(GeneratorCase(HOME, Period.SUBTRANSIENT, Fault.LINES)).value
    assert tripping(first, lasting, BREAKER).trip is Trip.NEVER
    held = least_fault(replace(HOME, held_up=Fraction(3))).value
    assert tripping(first, held, BREAKER).trip is Trip.IN_TIME
    delayed = replace(BREAKER, instantaneous=None)
    assert tripping(Fraction(5000), held, delayed).trip is Trip.IN_TIME


@given(AMPERES, AMPERES, st.integers(0, 5000).map(Fraction), st.integers(0, 5000).map(Fraction))
def test_more_current_never_trips_less(first: Fraction, lasting: Fraction, more: Fraction, longer: Fraction) -> None:
    device = replace(BREAKER, rating=Fraction(400), instantaneous=Fraction(4000))
    found = tripping(first / 10, lasting / 100, device)
    greater = tripping(first / 10 + more, lasting / 100 + longer, device)
    assert ORDER.index(found.trip) <= ORDER.index(greater.trip)
    assert found.never_to == 400
    assert found.surely_from == 540


def of(amperes: int, fault: Fault = Fault.LINES) -> FaultCurrent:
    return current_of(Loop(fault, Fraction(amperes), Impedance(Fraction(1), Fraction(0))))


def test_a_rating_against_every_fault_that_can_be() -> None:
    """10 kA holds against 9 kA between lines, but not for sure while the fault to neutral is not known."""
    both = faults_there(1, neutral=True)
    assert rating_holds(Fraction(10_000), [of(9000)], faults_there(1, neutral=False)).holds is Truth.YES
    unknown = rating_holds(Fraction(10_000), [of(9000)], both)
    assert unknown.holds is Truth.UNKNOWN
    assert "line-to-neutral" in unknown.why
    known = rating_holds(Fraction(10_000), [of(9000), of(13_500, Fault.LINE_AND_NEUTRAL)], both)
    assert known.holds is Truth.NO
    assert known.fault is Fault.LINE_AND_NEUTRAL
    assert known.margin == -3500
    assert rating_holds(Fraction(10_000), [of(10_000)], faults_there(1, neutral=False)).holds is Truth.YES
    assert rating_holds(Fraction(10_000), [of(10_001)], both).holds is Truth.NO
    assert faults_there(3, neutral=True) == {Fault.THREE_PHASE, Fault.LINE_AND_NEUTRAL}
    with pytest.raises(OutsideLimits, match="No fault current"):
        deciding(())


ROWS = (
    WithstandRow("molded_case_breaker", Fraction(800), Fraction(65_000), None),
    WithstandRow("fuse_class_l", Fraction(1200), Fraction(200_000), None),
    WithstandRow(None, None, Fraction(35_000), Fraction(1, 20)),
    WithstandRow(None, None, Fraction(25_000), Fraction(3, 10)),
)
"""By a named breaker, by a fuse, by time (0.05 s), and a short-time rating of 0.3 s (constructed)."""

QUICK = Protection("molded_case_breaker", Fraction(600), Fraction(8000), True, Fraction(25, 1000), Fraction(3, 10))
SLOW = replace(QUICK, kind="power_breaker", at_once_from=None)


@pytest.mark.parametrize(
    ("protection", "amperes", "holds", "rating"),
    [
        (QUICK, 65_000, Truth.YES, 65_000),
        (QUICK, 65_001, Truth.NO, 65_000),
        (replace(QUICK, rating=Fraction(1000)), 35_000, Truth.YES, 35_000),
        (replace(QUICK, rating=Fraction(1000)), 35_001, Truth.NO, 35_000),
        (SLOW, 25_000, Truth.YES, 25_000),
        (SLOW, 29_500, Truth.NO, 25_000),
        (replace(QUICK, at_once_from=None), 29_500, Truth.NO, 25_000),
        (replace(QUICK, at_once_is_known=False), 29_500, Truth.UNKNOWN, 65_000),
        (replace(QUICK, at_once_is_known=False), 24_000, Truth.YES, 25_000),
        (replace(QUICK, kind=None), 50_000, Truth.UNKNOWN, 200_000),
        (replace(SLOW, time_with_delay=None), 29_500, Truth.UNKNOWN, 35_000),
        (replace(SLOW, time_with_delay=None), 35_001, Truth.NO, 35_000),
        (replace(SLOW, time_with_delay=Fraction(1)), 10_000, Truth.NO, None),
    ],
)
def test_a_switch_withstands_by_the_row_of_its_device(
    protection: Protection, amperes: int, holds: Truth, rating: int | None
) -> None:
    found = switch_withstands(ROWS, protection, of(amperes))
    assert found.holds is holds
    assert found.rating == rating


def test_a_table_that_is_not_shown_says_nothing() -> None:
    found = switch_withstands((), QUICK, of(1000))
    assert found.holds is Truth.UNKNOWN
    assert found.margin is None


OPEN = {
    "kind": (None, "molded_case_breaker", "power_breaker", "fuse_class_l"),
    "rating": (None, Fraction(600), Fraction(1600)),
    "time_at_once": (None, Fraction(25, 1000), Fraction(8, 100)),
    "time_with_delay": (None, Fraction(4, 100), Fraction(3, 10), Fraction(1)),
}
AT_ONCE: Sequence[tuple[Fraction | None, bool]] = (
    (None, False),
    (None, True),
    (Fraction(8000), True),
    (Fraction(50_000), True),
)


@given(
    st.tuples(*(st.sampled_from(values) for values in OPEN.values())),
    st.sampled_from(AT_ONCE),
    st.sampled_from((10_000, 24_000, 29_500, 36_000, 60_000, 70_000)),
)
def test_what_is_not_known_never_turns_an_answer_round(
    told: tuple[object, ...], at_once: tuple[Fraction | None, bool], amperes: int
) -> None:
    """Every completion of an open device gives the answer that was sure before; brute force."""
    known = dict(zip(OPEN, told, strict=True)) | {"at_once_from": at_once[0], "at_once_is_known": at_once[1]}
    found = switch_withstands(ROWS, Protection(**known), of(amperes)).holds  # type: ignore[arg-type]
    choices = [[value] if value is not None else list(OPEN[name][1:]) for name, value in zip(OPEN, told, strict=True)]
    times = [at_once] if at_once[1] else list(AT_ONCE[1:])
    answers = set()
    for completed, (start, _) in product(product(*choices), times):
        whole = dict(zip(OPEN, completed, strict=True)) | {"at_once_from": start, "at_once_is_known": True}
        answers.add(switch_withstands(ROWS, Protection(**whole), of(amperes)).holds)  # type: ignore[arg-type]
    assert Truth.UNKNOWN not in answers
    if found is not Truth.UNKNOWN:
        assert answers == {found}


def test_cold_conductors_pass_more() -> None:
    """Copper at 25 °C has 83.85 % of its resistance at 75 °C: note 2 of chapter 9, Table 8."""
    warm = Impedance(Fraction("0.0608"), Fraction("0.041"))
    cold = warm.warmer(Fraction("0.00323"), Fraction(-50))
    assert cold.resistance / warm.resistance == Fraction("0.8385")
    assert cold.reactance == warm.reactance
    source = loop_of(Available(Fault.LINES, Fraction(20_000), Fraction(240), Fraction(3)))
    at = [fault_past_runs(RunsCase(source, (Run(Fraction(50), each),))).value for each in (warm, cold)]
    assert at[0] < at[1]


# --- roots, factors --------------------------------------------------------------------------------------------------


@given(st.integers(1, 10**12), st.integers(1, 10**6))
def test_roots_and_exponentials(top: int, bottom: int) -> None:
    number = Fraction(top, bottom)
    close(square_root(number), math.sqrt(number))
    power = -Fraction(top % 1000, bottom)
    assert float(exponential(power)) == pytest.approx(math.exp(power), rel=1e-12, abs=1e-300)


@given(MORE, MORE, MORE)
def test_more_reactance_is_harder_to_open(loop: Fraction, test: Fraction, more: Fraction) -> None:
    factor = multiplying_factor(loop, test)
    assert factor >= 1
    assert factor <= multiplying_factor(loop + more, test)
    assert factor >= multiplying_factor(loop, test + more)


def first_peak(x_over_r: float) -> float:
    """The greatest instant of the current of a coil and a resistor over the peak of its steady part, step by step: the
    switch closes at every angle, and the current is the steady one less what it would have been at that instant.
    """
    lag = math.atan(x_over_r)

    def current(angle: float, after: float) -> float:
        return math.sin(after + angle - lag) - math.sin(angle - lag) * math.exp(-after / x_over_r)

    steps = [step * math.pi / 90 for step in range(181)]
    return max(abs(current(angle, after)) for angle in steps[::5] for after in steps)


@pytest.mark.parametrize("tested", [1.7, 3.2, 4.9, 6.6])
@pytest.mark.parametrize("loop", [7, 10, 20, 40])
def test_factors_against_the_first_peak_of_a_circuit(loop: float, tested: float) -> None:
    """The formula takes the peak half a cycle after the fault, which is within 4 % of the true one."""
    factor = multiplying_factor(Fraction(loop), Fraction(str(tested)))
    assert float(factor) == pytest.approx(first_peak(loop) / first_peak(tested), rel=0.04)


def test_a_factor_needs_ratios() -> None:
    assert multiplying_factor(Fraction(2), Fraction(5)) == 1
    for wrong in ((Fraction(0), Fraction(1)), (Fraction(1), Fraction(0))):
        with pytest.raises(OutsideLimits):
            multiplying_factor(*wrong)

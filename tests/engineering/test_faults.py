"""Fault currents against circuits solved by hand in complex numbers, and how they behave with every input."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.along import (
    NO_RATIO,
    NOTHING_BETWEEN,
    Beginning,
    Between,
    Conductors,
    least_past,
    most_past,
    point_to_point_factor,
)
from checker.engineering.faults.asymmetry import multiplying_factor
from checker.engineering.faults.generators import times_rated
from checker.engineering.faults.loops import Fault, Loop, current_of, driving_voltage
from checker.engineering.faults.motors import MOTOR_CONTRIBUTION, Motors, motor_contribution
from checker.engineering.faults.ratio import ratio_past
from checker.engineering.faults.transformers import (
    SECONDARY_FAULT,
    HalfWinding,
    Primary,
    Transformer,
    TransformerCase,
    secondary_fault,
    secondary_loop,
)
from checker.engineering.impedance import Impedance, split
from checker.engineering.powers import exponential, square_root

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


def conductors(length: Fraction, phase: Impedance, neutral: Impedance, sets: int = 1) -> Conductors:
    """A run of which everything is known, by its ohms per 1000 ft."""
    each = [one.times(length / 1000 / sets) for one in (phase, neutral)]
    return Conductors(Between(each[0], each[0]), Between(each[1], each[1]))


def past(loop: Loop, run: Conductors) -> Fraction:
    """The current at the end of a run by the bounds of the product, which meet where everything is known."""
    source = loop.impedance
    ratio = source.reactance / source.resistance if source.resistance else Fraction(10**15)
    begin, added = Beginning(loop.current, loop.voltage, (ratio, ratio)), run.round_of(loop.fault).least
    close(most_past(begin, added), float(least_past(begin, added)))
    return most_past(begin, added)


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
    loop = secondary_loop(case)
    found = past(loop, conductors(Fraction(length), phase, neutral))
    own = vector(split(between**2 / rating * Fraction(permille, 1000) * Fraction(9, 10), ratio))
    utility = vector(split(between**2 / power, utility_ratio))
    z1, z0 = own + utility, own * zero / 100
    close(at_terminals.value, phase_model(volts, z1, z0, 0j, 0j, fault))
    along = [vector(each) * length / 1000 for each in (phase, neutral)]
    close(found, phase_model(volts, z1, z0, along[0], along[1], fault))
    assert at_terminals.fault is fault


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


def runs() -> st.SearchStrategy[Conductors]:
    return st.builds(conductors, st.integers(0, 500).map(Fraction), IMPEDANCES, IMPEDANCES, st.integers(1, 4))


def at_ratio(amperes: Fraction, ratio: Fraction | None) -> Beginning:
    own = Fraction(10**15) if ratio is None else ratio
    return Beginning(amperes, Fraction(240), (own, own))


@given(AMPERES, RATIOS, FAULTS, runs(), MILLIOHMS)
def test_a_run_moves_as_it_says(
    amperes: Fraction, ratio: Fraction | None, fault: Fault, run: Conductors, more: Fraction
) -> None:
    """More resistance or reactance on the way leaves less, at the most and at the least."""
    begin, added = at_ratio(amperes, ratio), run.round_of(fault).least
    for way in (most_past, least_past):
        assert way(begin, added) <= amperes + 1
        for extra in (Impedance(more, Fraction(0)), Impedance(Fraction(0), more)):
            assert way(begin, added + extra) <= way(begin, added)


@given(AMPERES, RATIOS, FAULTS, runs())
def test_bounds_hold_whatever_the_ratio_of_the_source(
    amperes: Fraction, ratio: Fraction | None, fault: Fault, run: Conductors
) -> None:
    added = run.round_of(fault).least
    found, begin = most_past(at_ratio(amperes, ratio), added), Beginning(amperes, Fraction(240))
    assert least_past(begin, added) - 1 <= found <= most_past(begin, added) + 1


@pytest.mark.parametrize(("resistance", "reactance"), [(1, 10), (10, 1), (1, 1)])
def test_the_greatest_is_reached_at_one_of_the_extremes(resistance: int, reactance: int) -> None:
    """A run of reactance meets a source of resistance, a run of resistance one of reactance: neither bound is idle."""
    added = Impedance(Fraction(resistance, 250), Fraction(reactance, 250))
    ratios = [None, *(Fraction(each, 10) for each in range(201))]
    found = [most_past(at_ratio(Fraction(10_000), ratio), added) for ratio in ratios]
    begin = Beginning(Fraction(10_000), Fraction(240))
    close(most_past(begin, added), float(max(found)))
    assert least_past(begin, added) <= min(found)
    close(
        least_past(begin, added), float(most_past(at_ratio(Fraction(10_000), Fraction(reactance, resistance)), added))
    )


@given(AMPERES, FAULTS, IMPEDANCES, st.integers(0, 300).map(Fraction), st.integers(1, 4))
def test_points_are_impedances_of_one_angle_and_err_to_the_low_side(
    amperes: Fraction, fault: Fault, each: Impedance, length: Fraction, sets: int
) -> None:
    """f and M, written out as the handbooks do, with C = 1 / ohms per foot: the least of the vectors, both at one
    angle.
    """
    volts, constant = Fraction(208), 1000 / each.magnitude
    to_neutral = Fraction(120)
    printed_volts = to_neutral if fault is Fault.LINE_AND_NEUTRAL else volts
    ways = math.sqrt(3) if fault is Fault.THREE_PHASE else 2
    printed = ways * float(length * amperes / (constant * sets * printed_volts))
    begin = Beginning(amperes, driving_voltage(fault, volts, to_neutral))
    added = conductors(length, each, each, sets).round_of(fault).least
    close(point_to_point_factor(begin, added), printed)
    close(least_past(begin, added), float(amperes) / (1 + printed))
    assert least_past(begin, added) <= most_past(begin, added) + 1
    assert begin.x_over_r == NO_RATIO


def test_what_a_run_and_a_letter_cannot_tell() -> None:
    with pytest.raises(OutsideLimits, match="amperes and volts"):
        least_past(Beginning(Fraction(0), Fraction(120)), Impedance(Fraction(1), Fraction(1)))
    with pytest.raises(OutsideLimits, match="opposes"):
        current_of(Loop(Fault.LINES, Fraction(120), Impedance(Fraction(0), Fraction(0))))
    assert (
        ratio_past((at_ratio(Fraction(1000), Fraction(2)),), Between(Impedance(Fraction(0), Fraction(0)), None)) is None
    )
    assert ratio_past((), NOTHING_BETWEEN) is None


@given(AMPERES, AMPERES, st.integers(1, 200).map(lambda each: Fraction(each, 10)), FAULTS, runs(), runs(), SHARES)
def test_x_over_r_past_a_run_lies_between_its_ends(
    one: Fraction, other: Fraction, ratio: Fraction, fault: Fault, less: Conductors, more: Conductors, share: Fraction
) -> None:
    """Any current between two and any run between two, as complex numbers."""
    low, high = min(one, other), max(one, other)
    least, extra = less.round_of(fault).least, more.round_of(fault).least
    found = ratio_past((at_ratio(low, ratio), at_ratio(high, ratio)), Between(least, least + extra))
    assert found is not None
    part = min(share, Fraction(1))
    source = split(Fraction(240) / (low + (high - low) * part), ratio)
    built = vector(source) + vector(least) + complex(0, 1) * float(extra.reactance * part) + float(extra.resistance) / 2
    assert float(found[0]) <= built.imag / built.real * (1 + 1e-9)
    assert found[1] is not None
    assert built.imag / built.real <= float(found[1]) * (1 + 1e-9)


# --- motors ----------------------------------------------------------------------------------------------------------


@given(st.lists(AMPERES, min_size=1, max_size=5), SHARES, MORE)
def test_what_motors_add(currents: list[Fraction], multiple: Fraction, more: Fraction) -> None:
    motors = Motors(currents, multiple)
    added = motor_contribution(motors).value
    assert set(MOTOR_CONTRIBUTION.directions) == {"full_load_currents", "multiple"}
    assert added <= motor_contribution(replace(motors, multiple=multiple + more)).value
    assert added <= motor_contribution(replace(motors, full_load_currents=[*currents, more])).value
    close(added, float(multiple) * sum(map(float, currents)))


def test_motors_that_feed_nothing() -> None:
    """Behind converters motors are left out. Four times 100 A is 400 A (published multiple)."""
    assert motor_contribution(Motors((), Fraction(4))).value == 0
    assert motor_contribution(Motors((Fraction(60), Fraction(40)), Fraction(4))).value == 400
    with pytest.raises(OutsideLimits, match="zero or more"):
        motor_contribution(Motors((Fraction(-1),), Fraction(4)))


# --- generators ------------------------------------------------------------------------------------------------------


@given(SHARES, SHARES, SHARES, FAULTS)
def test_a_generator_against_symmetrical_components_by_hand(
    first: Fraction, negative: Fraction, zero: Fraction, fault: Fault
) -> None:
    """The phase model with z1 = z2 = x1 does not hold where x2 differs, so this is the textbook's sequence network."""
    one, two, none = float(first), float(negative), float(zero)
    positive = {
        Fault.THREE_PHASE: 1 / complex(0, one),
        Fault.LINES: 1 / complex(0, one + two),
        Fault.LINE_AND_NEUTRAL: 1 / complex(0, one + two + none),
    }[fault]
    turn = cmath.rect(1, 2 * math.pi / 3)
    phase = {
        Fault.THREE_PHASE: positive,
        Fault.LINES: positive * (turn**2 - turn),
        Fault.LINE_AND_NEUTRAL: 3 * positive,
    }[fault]
    close(times_rated(fault, first, negative, zero), abs(phase))


@given(SHARES, SHARES, SHARES, FAULTS, MORE)
def test_a_generator_falls_with_each_reactance(
    first: Fraction, negative: Fraction, zero: Fraction, fault: Fault, more: Fraction
) -> None:
    found = times_rated(fault, first, negative, zero)
    assert times_rated(fault, first + more, negative, zero) < found
    assert times_rated(fault, first, negative + more, zero) <= found
    assert times_rated(fault, first, negative, zero + more) <= found


def test_a_generator_needs_a_reactance() -> None:
    for wrong in ((0, 1, 1), (1, -1, 1), (1, 1, -1)):
        with pytest.raises(OutsideLimits, match="reactance"):
            times_rated(Fault.LINES, *(Fraction(each) for each in wrong))


def test_the_greatest_fault_of_a_set_is_to_its_neutral() -> None:
    """x0 is far below x'', so 3 / (0.12 + 0.15 + 0.03) is above 1 / 0.12: 10 against 8.3 times the rated current."""
    reactances = (Fraction("0.12"), Fraction("0.15"), Fraction("0.03"))
    assert times_rated(Fault.LINE_AND_NEUTRAL, *reactances) == 10
    close(times_rated(Fault.THREE_PHASE, *reactances), 1 / 0.12)
    assert times_rated(Fault.LINES, *reactances) < times_rated(Fault.THREE_PHASE, *reactances)


def test_cold_conductors_pass_more() -> None:
    """Copper at 25 °C has 83.85 % of its resistance at 75 °C: note 2 of chapter 9, Table 8."""
    warm = Impedance(Fraction("0.0608"), Fraction("0.041"))
    cold = warm.warmer(Fraction("0.00323"), Fraction(-50))
    assert cold.resistance / warm.resistance == Fraction("0.8385")
    assert cold.reactance == warm.reactance
    begin = Beginning(Fraction(20_000), Fraction(240), (Fraction(3), Fraction(3)))
    at = [most_past(begin, each.times(Fraction(2 * 50, 1000))) for each in (warm, cold)]
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

"""The set: what site and fuel leave of its rating, motors, dips, blocks of load, phases."""

from __future__ import annotations

import cmath
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.generator.air import barometric_pressure, steam_pressure
from checker.engineering.generator.derating import (
    SITE_RATING,
    Combined,
    FactorLine,
    FactorList,
    SiteRating,
    StepRule,
    site_rating,
)
from checker.engineering.generator.phase_load import PHASE_CURRENTS, PhaseLoads, SinglePhaseLoad, phase_currents
from checker.engineering.generator.power_adjustment import (
    ADJUSTED_RATING,
    AdjustedRating,
    Adjustment,
    Air,
    Exponents,
    Surroundings,
    adjust,
    adjusted_rating,
    indicated_ratio,
)
from checker.engineering.generator.voltage_dip import (
    DIP_FROM_RATED_START,
    GREATEST_START,
    VOLTAGE_DIP,
)
from checker.engineering.worked import Paper

F = Fraction

# --- derating --------------------------------------------------------------------------------------------------------

HEIGHT = StepRule(F(3, 100), F(1000), F(500), "instructions")
HEAT = FactorList((FactorLine(F(25), F(1)), FactorLine(F(40), F(95, 100))), "instructions")
SITE = SiteRating(F(22_000), "W", F(2600), F(30), HEIGHT, HEAT)


@pytest.mark.parametrize(
    ("begun", "left"), [(True, "0.91"), (None, "0.91"), (False, "0.937")], ids=["whole", "not said", "part"]
)
def test_a_begun_step_counts_whole_unless_the_maker_says_otherwise(begun: bool | None, left: str) -> None:
    assert replace(HEIGHT, begun_steps_count=begun).factor(F(2600)) == F(left)


@pytest.mark.parametrize(("altitude", "left"), [("500", "1"), ("501", "0.97"), ("1500", "0.97"), ("1501", "0.94")])
def test_steps_begin_right_above_their_limit(altitude: str, left: str) -> None:
    assert HEIGHT.factor(F(altitude)) == F(left)


def test_factors_are_multiplied_and_what_was_taken_is_said() -> None:
    worked = site_rating(SITE)
    assert worked.value == F(22_000) * F("0.91") * F("0.95")
    assert "multiplied" in worked.assumptions[1]
    assert "begun step" in worked.assumptions[0]
    assert len(worked.assumptions) == 2
    assert site_rating(replace(SITE, combined=Combined.ADDED)).value == F(22_000) * F("0.86")


def test_no_rule_takes_nothing_and_says_so() -> None:
    worked = site_rating(replace(SITE, by_temperature=None, by_altitude=None))
    assert worked.value == 22_000
    assert [line for line in worked.assumptions if "no rule" in line] == list(worked.assumptions)
    assert len(worked.assumptions) == 2


@given(st.integers(0, 12_000).map(F), st.integers(0, 3000).map(F), st.integers(-20, 40).map(F), st.booleans())
def test_a_set_never_gives_more_higher_up_or_in_more_heat(
    altitude: Fraction, more: Fraction, temperature: Fraction, begun: bool
) -> None:
    assert SITE_RATING.directions["altitude"] is Direction.FALLS
    rule = replace(HEIGHT, begun_steps_count=begun)
    case = replace(SITE, by_altitude=rule, altitude=altitude, temperature=temperature)
    assert site_rating(case).value <= site_rating(replace(case, rating=case.rating + more)).value
    assert site_rating(case).value >= site_rating(replace(case, altitude=altitude + more)).value
    assert site_rating(case).value >= site_rating(replace(case, temperature=F(40))).value


def test_sites_without_an_answer() -> None:
    with pytest.raises(OutsideLimits, match="ends at 40"):
        site_rating(replace(SITE, temperature=F(41)))
    with pytest.raises(OutsideLimits, match="leaves nothing"):
        site_rating(replace(SITE, altitude=F(40_000)))
    half = StepRule(F(1, 2), F(1), F(0), "instructions", begun_steps_count=False)
    with pytest.raises(OutsideLimits, match="together"):
        site_rating(SiteRating(F(1), "W", F(1), F(1), half, half, Combined.ADDED))


# --- power adjustment ------------------------------------------------------------------------------------------------

REFERENCE = Air(F(100), F("3.17"), F(3, 10), F(298), F(298))
NATURAL = Exponents(F(1), F(1), F(3, 4), F(0), "naturally aspirated")
TURBO = Exponents(F(0), F(7, 10), F(6, 5), F(1), "with charge air cooling")


def alpha_of(case: Adjustment) -> Fraction:
    return adjust(Paper(), case).value


@pytest.mark.parametrize("exponents", [NATURAL, TURBO])
def test_at_the_reference_nothing_is_adjusted(exponents: Exponents) -> None:
    assert alpha_of(Adjustment(REFERENCE, REFERENCE, exponents, F(4, 5))) == 1


def test_a_turbocharged_engine_by_hand() -> None:
    """Constructed: 80 kPa, 313 K, coolant 310 K; (0.8)^0.7 (298/313)^1.2 (298/310) worked out in floating point."""
    site = Air(F(80), F("7.38"), F(1, 2), F(313), F(310))
    case = Adjustment(REFERENCE, site, TURBO, F(4, 5))
    ratio = 0.8**0.7 * (298 / 313) ** 1.2 * (298 / 310)
    assert float(indicated_ratio(case)) == pytest.approx(ratio, rel=1e-12)
    assert float(alpha_of(case)) == pytest.approx(ratio - 0.7 * (1 - ratio) * 0.25, rel=1e-8)


@given(
    st.integers(60, 105).map(F),
    st.integers(270, 325).map(F),
    st.integers(1, 9).map(F),
    st.sampled_from([NATURAL, TURBO]),
)
def test_thin_or_warm_air_never_gives_more(
    pressure: Fraction, temperature: Fraction, more: Fraction, exponents: Exponents
) -> None:
    site = Air(pressure, F(3), F(1, 2), temperature, F(300))
    alpha = alpha_of(Adjustment(REFERENCE, site, exponents, F(4, 5)))
    for change, rises in (
        ({"pressure": pressure + more}, True),
        ({"temperature": temperature + more}, False),
        ({"coolant": 300 + more}, False),
        ({"humidity": F(1)}, False),
    ):
        other = alpha_of(Adjustment(REFERENCE, replace(site, **change), exponents, F(4, 5)))
        assert alpha <= other if rises else alpha >= other


def test_adjustments_without_an_answer() -> None:
    case = Adjustment(REFERENCE, REFERENCE, NATURAL, F(4, 5))
    for wrong in (
        replace(case, efficiency=F(0)),
        replace(case, efficiency=F(11, 10)),
        replace(case, site=replace(REFERENCE, pressure=F(1, 2))),
        replace(case, site=replace(REFERENCE, temperature=F(0))),
    ):
        with pytest.raises(OutsideLimits):
            alpha_of(wrong)
    with pytest.raises(OutsideLimits, match="leaves nothing"):
        alpha_of(replace(case, site=replace(REFERENCE, pressure=F(5)), efficiency=F(1, 2)))


STANDARD = Surroundings(F(100), F(25), F(3, 10), F(25))
RATED = AdjustedRating(F(500), "kW", F(5000), F(40), F(1, 2), F(60), STANDARD, TURBO, F(4, 5))


def test_a_rating_adjusted_by_hand() -> None:
    """Constructed: 5,000 ft (84.31 kPa), 104 °F, coolant at 60 °C, worked out in floating point."""
    ratio = (84.307 / 100) ** 0.7 * (298.15 / 313.15) ** 1.2 * (298.15 / 333.15)
    wanted = 500 * (ratio - 0.7 * (1 - ratio) * 0.25)
    worked = adjusted_rating(RATED)
    assert float(worked.value) == pytest.approx(wanted, rel=1e-4)
    assert "pressure of saturated steam" not in {step.quantity for step in worked.steps}
    damp = adjusted_rating(replace(RATED, exponents=NATURAL))
    assert float(damp.step("pressure of saturated steam").value) == pytest.approx(7.38, rel=1e-3)


def test_a_kind_site_gives_no_more_than_the_rating() -> None:
    worked = adjusted_rating(replace(RATED, altitude=F(-500), temperature=F(10), coolant=F(20)))
    assert worked.step("factor alpha").value > 1
    assert worked.value == 500


@given(
    st.sampled_from(["rating", "efficiency", "altitude", "temperature", "humidity", "coolant"]),
    st.integers(1, 50).map(F),
    st.sampled_from([NATURAL, TURBO]),
)
def test_an_adjusted_rating_moves_as_it_declares(name: str, more: Fraction, exponents: Exponents) -> None:
    step = more / 100 if name in ("efficiency", "humidity") else more / 10
    case = replace(RATED, exponents=exponents, efficiency=F(1, 2), humidity=F(1, 10))
    before, after = (
        adjusted_rating(each).value for each in (case, replace(case, **{name: getattr(case, name) + step}))
    )
    assert before <= after if ADJUSTED_RATING.directions[name] is Direction.RISES else before >= after


def test_air_outside_of_the_formulas() -> None:
    for altitude in (F(-7000), F(37_000)):
        with pytest.raises(OutsideLimits, match="standard atmosphere"):
            barometric_pressure(altitude)
    for temperature in (F(-41), F(51)):
        with pytest.raises(OutsideLimits, match="steam"):
            steam_pressure(temperature)


# --- dips ------------------------------------------------------------------------------------------------------------


def test_a_dip_by_hand() -> None:
    """Constructed: X'd 0.25, 100 kVA, a motor that starts with 100 kVA: 0.25 / (0.25 + 1) = 20 %."""
    point = {"reactance": F(1, 4), "set": F(100_000), "starting": F(100_000)}
    assert VOLTAGE_DIP.at(point) == F(1, 5)
    assert GREATEST_START.at({"reactance": F(1, 4), "set": F(100_000), "dip": F(1, 5)}) == 100_000


POWERS = st.integers(1, 2000).map(lambda each: F(each * 1000))
REACTANCES = st.integers(5, 60).map(lambda percent: F(percent, 100))


@given(REACTANCES, POWERS, POWERS)
def test_dips_are_shares_and_the_published_short_form_is_never_below(
    reactance: Fraction, set_: Fraction, start: Fraction
) -> None:
    point = {"reactance": reactance, "set": set_, "starting": start}
    dip = VOLTAGE_DIP.at(point)
    assert 0 < dip < 1
    assert dip <= reactance * start / set_
    back = GREATEST_START.at({"reactance": reactance, "set": set_, "dip": dip})
    assert back == pytest.approx(start, rel=1e-6)


@given(REACTANCES, POWERS, POWERS, POWERS)
def test_the_makers_figure_says_the_same_as_its_reactance(
    reactance: Fraction, set_: Fraction, stated: Fraction, start: Fraction
) -> None:
    dip = VOLTAGE_DIP.function({"reactance": reactance, "set": set_, "starting": stated})
    found = DIP_FROM_RATED_START.at({"rated_start": stated, "rated_dip": dip, "starting": start})
    assert found == VOLTAGE_DIP.at({"reactance": reactance, "set": set_, "starting": start})


# --- phases ----------------------------------------------------------------------------------------------------------

CONNECTIONS = st.sampled_from(["A", "B", "C", "AB", "BC", "CA"])
LOADS = st.lists(st.builds(SinglePhaseLoad, st.just("load"), CONNECTIONS, st.integers(0, 20_000).map(F)), max_size=6)


def by_phasors(case: PhaseLoads) -> dict[str, float]:
    """The same by complex numbers, each load by its voltage: a second implementation."""
    volts = {
        name: cmath.rect(float(case.voltage) / 3**0.5, cmath.pi * turn / 180)
        for name, turn in zip("ABC", (0, -120, 120), strict=True)
    }
    currents = {name: (float(case.three_phase) / (3 * volt)).conjugate() for name, volt in volts.items()}
    for load in case.single_phase:
        ends = tuple(load.connection)
        across = volts[ends[0]] - (volts[ends[1]] if len(ends) == 2 else 0)
        current = (float(load.power) / across).conjugate()
        currents[ends[0]] += current
        if len(ends) == 2:
            currents[ends[1]] -= current
    return {name: abs(current) for name, current in currents.items()}


@given(st.integers(0, 50_000).map(F), LOADS)
def test_phase_currents_against_complex_numbers(three_phase: Fraction, loads: list[SinglePhaseLoad]) -> None:
    case = PhaseLoads(F(208), three_phase, tuple(loads))
    worked = phase_currents(case)
    wanted = by_phasors(case)
    for name, current in wanted.items():
        assert float(worked.step(f"current of phase {name}").value) == pytest.approx(current, abs=1e-6)
    assert float(worked.value) == pytest.approx(max(wanted.values()), abs=1e-6)


@given(st.integers(0, 50_000).map(F), LOADS, CONNECTIONS, st.integers(1, 9000).map(F))
def test_one_more_load_never_lowers_the_greatest_current(
    three_phase: Fraction, loads: list[SinglePhaseLoad], connection: str, more: Fraction
) -> None:
    assert PHASE_CURRENTS.directions["power"] is Direction.RISES
    case = PhaseLoads(F(208), three_phase, tuple(loads))
    with_more = replace(case, single_phase=(*loads, SinglePhaseLoad("more", connection, more)))
    assert phase_currents(case).value <= phase_currents(with_more).value
    assert phase_currents(case).value <= phase_currents(replace(case, three_phase=three_phase + more)).value
    assert phase_currents(case).value >= phase_currents(replace(case, voltage=F(240))).value


def test_equal_loads_are_balanced_and_draw_the_full_load_current() -> None:
    three = tuple(SinglePhaseLoad(name, name, F(10_000)) for name in ("A", "B", "C"))
    worked = phase_currents(PhaseLoads(F(208), F(0), three))
    point = {"power": F(30_000), "voltage": F(208), "power_factor": F(1), "phases": F(3)}
    assert worked.value == FULL_LOAD_CURRENT.at(point)
    assert float(worked.step("imbalance").value) == pytest.approx(0, abs=1e-12)
    across = tuple(SinglePhaseLoad(name, name, F(10_000)) for name in ("AB", "BC", "CA"))
    assert phase_currents(PhaseLoads(F(208), F(0), across)).value == FULL_LOAD_CURRENT.at(point)


def test_all_on_one_phase_is_twice_the_mean_apart() -> None:
    one = (SinglePhaseLoad("heater", "A", F(12_000)),)
    worked = phase_currents(PhaseLoads(F(208), F(0), one))
    assert float(worked.value) == pytest.approx(12_000 / (208 / 3**0.5))
    assert worked.step("imbalance").value == 2


@pytest.mark.parametrize(
    "case",
    [
        PhaseLoads(F(0), F(1), ()),
        PhaseLoads(F(208), F(-1), ()),
        PhaseLoads(F(208), F(1), (SinglePhaseLoad("load", "AC", F(1)),)),
        PhaseLoads(F(208), F(1), (SinglePhaseLoad("load", "A", F(-1)),)),
    ],
)
def test_loads_that_cannot_be(case: PhaseLoads) -> None:
    with pytest.raises(OutsideLimits):
        phase_currents(case)

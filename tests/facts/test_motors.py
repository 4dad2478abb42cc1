"""What a motor asks of a set while it starts, and the dip of the set's voltage."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.set_sites import ends, load, site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: 480Y/277 V 3-phase 4-wire, fuel: diesel, rated_power: {{diesel: 350 kW}},
         power_factor: "0.8"{set}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
loads:
  complete: yes
  list: [{{name: compressor{load}}}]
"""
MOTOR = {
    "horsepower": "60 hp",
    "code_letter": "G",
    "locked_rotor_current": "unknown",
    "starting_method": "across_the_line",
}
NAMEPLATE = {"at": "P1", "motor_voltage": "480 V", "motor_phases": "three"}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def value(folder: Path, library: Library, fact: str, of_set: str = "", **but: str) -> Possible:
    facts = MOTOR | NAMEPLATE | but
    written = "".join(f", {name}: {text}" for name, text in facts.items() if text)
    return site_view(folder, library, SITE.format(set=of_set, load=written)).read(load(), fact)


def kva(low: str, high: str | None) -> tuple[Fraction, Fraction | None]:
    return Fraction(low) * 1000, None if high is None else Fraction(high) * 1000


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({}, "336", "377.4"),
        ({"code_letter": "F or G"}, "300", "377.4"),
        ({"code_letter": "V"}, "1344", None),
        ({"code_letter": "unknown"}, "0", None),
        ({"horsepower": "at least 60 hp"}, "336", None),
        ({"starting_method": "wye_delta"}, "110.88", "124.542"),
        ({"starting_method": "across_the_line or wye_delta"}, "110.88", "377.4"),
        # A soft starter whose limit is not known lets no more through than the motor takes with its rotor locked.
        ({"starting_method": "unknown"}, "0", "377.4"),
        ({"starting_method": "limited"}, "0", "377.4"),
        ({"starting_method": "unknown", "code_letter": "unknown"}, "0", None),
    ],
)
def test_the_code_letter_gives_a_band(
    but: dict[str, str], low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """Table 430.7(B): G stands for 5.6 to 6.29 kVA for each horsepower, F begins at 5.0;
    wye-delta takes a third, as 33 %.
    """
    assert ends(value(tmp_path, library, "starting_power", **but)) == kva(low, high)


PUMP = {"code_letter": "unknown", "load_kind": "appliance", "motor_voltage": "230 V", "motor_phases": "one"}


@pytest.mark.parametrize(
    ("but", "high"),
    [
        ({"horsepower": "1.5 hp", "motor_design": "L"}, "13.8"),
        ({"horsepower": "1 hp to 2 hp", "motor_design": "M"}, "16.64"),
        ({"horsepower": "1.25 hp", "motor_design": "N"}, "13.8"),
        ({"horsepower": "0.25 hp", "motor_design": "O"}, "6.762"),
        ({"horsepower": "10 hp", "motor_design": "L"}, "69.056"),
        ({"horsepower": "10 hp", "motor_design": "B", "motor_phases": "three"}, "64.536"),
        ({"horsepower": "1.5 hp", "motor_design": "L", "motor_voltage": "unknown"}, "13.8"),
        # Nothing bounds these.
        ({"horsepower": "1.5 hp"}, None),
        ({"horsepower": "1.5 hp", "motor_design": "none"}, None),
        ({"horsepower": "1.5 hp", "motor_design": "B"}, None),
        ({"horsepower": "10 hp", "motor_design": "A", "motor_phases": "three"}, None),
        ({"horsepower": "10 hp", "motor_design": "L", "motor_phases": "three"}, None),
        ({"horsepower": "1.5 hp", "motor_design": "L", "motor_phases": "unknown"}, None),
        ({"horsepower": "12 hp", "motor_design": "L"}, None),
        ({"horsepower": "at least 1 hp", "motor_design": "L"}, None),
        ({"horsepower": "unknown", "motor_design": "L"}, None),
        ({"horsepower": "1.5 hp", "motor_design": "L", "load_kind": "heat_pump"}, None),
        ({"horsepower": "1.5 hp", "motor_design": "L", "load_kind": "unknown"}, None),
    ],
)
def test_a_motor_with_a_design_letter_takes_no_more_than_the_table(
    but: dict[str, str], high: str | None, tmp_path: Path, library: Library
) -> None:
    """Table 430.251(A): 1-1/2 hp 120 A x 115 V, 2 hp 80 A x 208 V, 1/2 hp 29.4 A x 230 V, 10 hp 332 A x 208 V.

    Table 430.251(B): 10 hp 186.3 A x 200 V x sqrt 3, the greatest of its columns. From memory.
    """
    low, most = ends(value(tmp_path, library, "starting_power", **PUMP | but), 0)
    assert low == 0
    assert most == (None if high is None else Fraction(high) * 1000)


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({"code_letter": "G"}, "8.4", "9.435"),
        ({"locked_rotor_current": "66 A"}, "15.18", "15.18"),
        ({"locked_rotor_current": "30 A to 40 A"}, "6.9", "9.2"),
        ({"locked_rotor_current": "at least 50 A"}, "11.5", "13.8"),
        ({"locked_rotor_current": "at least 66 A"}, "15.18", None),
    ],
)
def test_what_the_nameplate_says_goes_before_the_table_by_horsepower(
    but: dict[str, str], low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """1-1/2 hp at 230 V: letter G 1.5 x 5.6 to 1.5 x 6.29 kVA, 66 A x 230 V = 15.18 kVA above the 13.8 of the table."""
    motor = PUMP | {"horsepower": "1.5 hp", "motor_design": "L"} | but
    assert ends(value(tmp_path, library, "starting_power", **motor)) == kva(low, high)


def test_a_small_motor_of_which_nothing_else_is_known_leaves_the_dip_bounded(tmp_path: Path, library: Library) -> None:
    """At 800 kVA the set dips by 30 %; 13.8 kVA is 1.7 % of that. The dip is below
    (13.8 / 800) x 0.3 / 0.7 / (1 + the same) = 0.73 %.
    """
    motor = PUMP | {"horsepower": "1.5 hp", "motor_design": "L"}
    low, high = ends(value(tmp_path, library, "dip_when_it_starts", FIGURE, **motor), 4)
    assert low == 0
    assert high == Fraction("0.0073")


def test_the_locked_rotor_current_goes_before_the_letter(tmp_path: Path, library: Library) -> None:
    """435 A at 480 V, three phases: sqrt 3 x 480 x 435 = 361 652 VA, by hand."""
    found = value(tmp_path, library, "starting_power", locked_rotor_current="435 A")
    assert ends(found, 0) == (Fraction(361_652), Fraction(361_652))


def test_a_current_outside_the_band_of_the_letter_is_told(tmp_path: Path, library: Library) -> None:
    found = value(tmp_path, library, "starting_power", locked_rotor_current="300 A")
    assert found.undefined == ("the locked-rotor current and the code letter of the motor do not go together",)


def test_a_starter_that_limits_the_current_counts_by_its_limit(tmp_path: Path, library: Library) -> None:
    """sqrt 3 x 480 x 200 = 166 277 VA."""
    found = value(tmp_path, library, "starting_power", starting_method="limited", limited_current="200 A")
    assert ends(found, 0) == (Fraction(166_277), Fraction(166_277))


FIGURE = ", motor_starting: {power: 800 kVA, dip: 30 %}"


def test_the_dip_is_the_stated_one_at_the_stated_power(tmp_path: Path, library: Library) -> None:
    """A motor of 962.25 A takes 800 kVA: the data sheet says 30 % for it."""
    but = {"code_letter": "unknown", "locked_rotor_current": "962.250449 A"}
    found = value(tmp_path, library, "dip_when_it_starts", FIGURE, **but)
    assert ends(found, 4) == (Fraction(3, 10), Fraction(3, 10))


def test_the_dip_by_the_reactance(tmp_path: Path, library: Library) -> None:
    """The divider: 0.2 x 377.4 / (437.5 + 0.2 x 377.4) = 14.7 %, at the least with 336 kVA 13.3 %."""
    found = value(tmp_path, library, "dip_when_it_starts", ", motor_starting: none, transient_reactance: 20 %")
    assert ends(found, 3) == (Fraction("0.133"), Fraction("0.147"))


def test_a_set_of_which_no_figure_is_shown_leaves_the_dip_open(tmp_path: Path, library: Library) -> None:
    assert ends(value(tmp_path, library, "dip_when_it_starts")) == (Fraction(0), Fraction(1))


def test_the_share_of_the_set_and_none_where_no_set_feeds_it(tmp_path: Path, library: Library) -> None:
    """64 kVA on 350 kW is 18.3 %."""
    at_site = ", power_at_site: 350 kW"
    assert ends(value(tmp_path, library, "share_of_set", at_site, load_power="64 kVA"), 3) == (Fraction("0.183"),) * 2
    assert value(tmp_path, library, "share_of_set", at_site, load_power="64 kVA", at="UTIL").only_absent

"""Voltage systems against ANSI C84.1 nominal voltages and what follows from the connection."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.refusals import NotationError
from checker.values.voltage_systems import VoltageSystem, read_system
from tests.values.reading import read_or_none

SPLIT = VoltageSystem("120/240 V 1-phase 3-wire", Fraction(240), Fraction(120), 1, 3, 2, "split")
WYE_208 = VoltageSystem("208Y/120 V 3-phase 4-wire", Fraction(208), Fraction(120), 3, 4, 3, "wye")
WYE_480 = VoltageSystem("480Y/277 V 3-phase 4-wire", Fraction(480), Fraction(277), 3, 4, 3, "wye")
DELTA_480 = VoltageSystem("480 V 3-phase 3-wire", Fraction(480), None, 3, 3, 3, "delta")
HIGH_LEG = VoltageSystem("240/120 V 3-phase 4-wire high leg", Fraction(240), Fraction(120), 3, 4, 3, "high_leg_delta")
CORNER = VoltageSystem(
    "480 V 3-phase 3-wire corner-grounded", Fraction(480), None, 3, 3, 2, "corner_grounded_delta"
)  # fmt: skip
LEGS = VoltageSystem("120/208 V 1-phase 3-wire", Fraction(208), Fraction(120), 1, 3, 2, "wye_legs")
ONE_HOT = VoltageSystem("120 V 1-phase 2-wire", Fraction(120), Fraction(120), 1, 2, 1, "single")
TWO_HOT = VoltageSystem("240 V 1-phase 2-wire", Fraction(240), None, 1, 2, 2, "single")

ACCEPTED = [
    ("120/240 V 1-phase 3-wire", SPLIT),
    ("120/240V 1ph 3w", SPLIT),
    ("120/240 1-ph 3-wire", SPLIT),
    ("120/240 V, single-phase, 3-wire", SPLIT),
    ("120/240 V 1-phase", SPLIT),
    ("120/240 V 3-wire", SPLIT),
    ("240/120 V 1-phase 3-wire", SPLIT),
    ("120V/240V 1Ø 3W", SPLIT),
    ("120/240 VAC split-phase", SPLIT),
    ("120/240 V 1 phase 3 wire", SPLIT),
    ("208Y/120 V 3-phase 4-wire", WYE_208),
    ("208Y/120", WYE_208),
    ("208/120 V wye", WYE_208),
    ("120/208 V 3-phase 4-wire", WYE_208),
    ("208/120V 3ph 4w", WYE_208),
    ("208 Y / 120 V three-phase four-wire", WYE_208),
    ("480Y/277", WYE_480),
    ("480y/277v", WYE_480),
    ("277/480 V 3-phase 4-wire", WYE_480),
    ("480Y/277 V 3Ø 4W", WYE_480),
    ("480/277 V 3-phase", WYE_480),
    ("480 V 3-phase 3-wire", DELTA_480),
    ("480V 3ph 3w", DELTA_480),
    ("480 V delta", DELTA_480),
    ("480 V 3-phase delta", DELTA_480),
    ("0.48 kV 3-phase 3-wire", DELTA_480),
    ("240/120 V 3-phase 4-wire high leg", HIGH_LEG),
    ("120/240 V 3-phase 4-wire", HIGH_LEG),
    ("120/240 V 3ph 4w delta", HIGH_LEG),
    ("240/120 V 3-phase high-leg delta", HIGH_LEG),
    ("240/120 V wild leg", HIGH_LEG),
    ("480 V 3-phase 3-wire corner-grounded", CORNER),
    ("480V corner grounded delta", CORNER),
    ("120/208 V 1-phase 3-wire", LEGS),
    ("208Y/120 V 1-phase 3-wire", LEGS),
    ("208/120 1ph", LEGS),
    ("120 V 1-phase 2-wire", ONE_HOT),
    ("120V 1ph 2w", ONE_HOT),
    ("240 V 1-phase 2-wire", TWO_HOT),
]

REFUSED = [
    ("240 V", "does not say which system", "120/240 V 1-phase 3-wire"),
    ("480 V", "does not say which system", "480Y/277 V 3-phase 4-wire or 480 V 3-phase 3-wire"),
    ("208 V 1-phase", "does not say which system", "208 V 1-phase 2-wire"),
    ("240 V 1-phase 3-wire", "does not say which system", "120/240 V 1-phase 3-wire"),
    ("120/240 V", "does not say which system", "120/240 V 1-phase 3-wire or 240/120 V 3-phase 4-wire high leg"),
    ("240/120 V 3-phase", "does not say which system", "high leg"),
    ("230/460 V 3-phase", "does not say which system", "460/230 V 3-phase 4-wire high leg"),
    ("208/120", "does not say which system", "208Y/120 V 3-phase 4-wire or 120/208 V 1-phase 3-wire"),
    ("480 V 3-phase", "does not say which system", "480 V 3-phase 3-wire"),
    ("480 V 3-phase 4-wire", "does not say which system", "480Y/277"),
    ("480 V wye", "does not say which system", "480Y/277"),
    ("480Y/277 V delta", "do not go together", "480Y/277 V 3-phase 4-wire"),
    ("480Y/277 V high leg", "do not go together", "480Y/277 V 3-phase 4-wire"),
    ("480Y/277 V corner-grounded", "do not go together", "480Y/277 V 3-phase 4-wire"),
    ("480 V 3-phase wye", "does not say which system", "480Y/277"),
    ("240 V 3-phase high leg", "does not say which system", "240/120 V 3-phase 4-wire high leg"),
    ("240 V high leg", "does not say which system", "both voltages"),
    ("120/240 V corner-grounded", "do not go together", "120/240 V 1-phase 3-wire"),
    ("120/240 V 1-phase high leg", "do not go together", "120/240 V 1-phase 3-wire"),
    ("120/240 V wye", "do not go together", "120/240 V 1-phase 3-wire"),
    ("120/240 V 1-phase 2-wire", "do not go together", "3-wire"),
    ("120/240 V 1-phase 4-wire", "do not go together", "3-wire"),
    ("208Y/120 V 3-phase 5-wire", "do not go together", "4-wire"),
    ("480 V 1-phase delta", "do not go together", "3-phase"),
    ("600/240 V", "not the voltages of one system", "one system"),
    ("240Y/120 V 3-phase 4-wire", "do not go together", "high leg"),
    ("100 V 1-phase 2-wire", "not a usual voltage", "120 V"),
    ("24 VDC", "direct current", "alternating"),
    ("0/0 V 1-phase", "voltage of zero", "120/240"),
    ("120/240 V 2-phase 3-wire", "neither one phase nor three", "1-phase"),
    ("120/240 V 1-phase 3-wire 60 Hz", "60 Hz", "120/240 V"),
    ("120/240 V 200 A", "200 A", "120/240 V"),
    ("one-twenty", "does not begin with a voltage", "120/240"),
    ("", "Nothing is written", "unknown"),
]


@pytest.mark.parametrize(("text", "system"), ACCEPTED)
def test_accepted(text: str, system: VoltageSystem) -> None:
    assert read_system(text) == system


@pytest.mark.parametrize(("text", "words", "help_words"), REFUSED)
def test_refused(text: str, words: str, help_words: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_system(text)
    assert words in refused.value.sentence
    assert help_words in refused.value.remedy


# ANSI C84.1 nominal system voltages, four-wire wye.
@pytest.mark.parametrize(
    ("high", "low"),
    [
        (208, 120), (480, 277), (600, 347), (4160, 2400), (8320, 4800), (12_000, 6930), (12_470, 7200), (13_200, 7620),
        (13_800, 7970), (20_780, 12_000), (22_860, 13_200), (24_940, 14_400), (34_500, 19_920),
    ],
)  # fmt: skip
def test_nominal_wye_systems(high: int, low: int) -> None:
    for text in (f"{high}Y/{low} V", f"{high:,}Y/{low:,} V 3-phase 4-wire", f"{low}/{high} V 3ph 4w"):
        system = read_system(text)
        assert (system.voltage, system.voltage_to_neutral) == (Fraction(high), Fraction(low))
        assert (system.connection, system.ungrounded) == ("wye", 3)


def test_a_wye_of_which_the_neutral_is_not_carried() -> None:
    system = read_system("480Y/277 V 3-phase 3-wire")
    assert (system.wires, system.ungrounded, system.connection) == (3, 3, "wye")


@pytest.mark.parametrize("system", sorted({system.name for _, system in ACCEPTED}))
def test_the_name_of_a_system_reads_as_the_system(system: str) -> None:
    assert read_system(system).name == system


@given(st.text(alphabet="0123456789/ VYkvphw-3134deltawyz.,", max_size=24) | st.text(max_size=30))
def test_any_text_is_read_or_refused_in_a_sentence(text: str) -> None:
    system = read_or_none(read_system, text)
    assert system is None or read_system(system.name) == system

"""What a motor asks of the set while it starts: by its code letter and by how it is started."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.powers import square_root
from checker.engineering.worked import Method, Paper, Worked

_VA_PER_KVA = 1000


@dataclass(frozen=True, slots=True)
class LetterBand:
    """The kVA per horsepower with locked rotor that a code letter stands for; the last letter has no upper end."""

    letter: str
    low: Fraction
    high: Fraction | None


@dataclass(frozen=True, slots=True)
class CodeLetters:
    """The table of code letters (NFPA 70, Table 430.7(B))."""

    bands: tuple[LetterBand, ...]
    source: str

    def band(self, letter: str) -> LetterBand:
        """The band of a letter; OutsideLimits for a letter that the table does not have."""
        for band in self.bands:
            if band.letter == letter:
                return band
        raise OutsideLimits(f"{self.source} has no code letter {letter}.")

    def highest(self, letter: str) -> Fraction:
        """The upper end of a letter's band, kVA/hp; OutsideLimits for the letter that has none."""
        high = self.band(letter).high
        if high is None:
            raise OutsideLimits(f"Code letter {letter} has no upper end: the locked-rotor current is needed.")
        return high


@dataclass(frozen=True, slots=True)
class StartingMethod:
    """How a motor is started, and which share of its locked-rotor input it then takes from the line."""

    name: str
    share: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class Starting:
    """A motor (hp), its locked-rotor input (kVA/hp) with where that is from, and how it is started."""

    horsepower: Fraction
    locked_rotor: Fraction
    locked_rotor_from: str
    method: StartingMethod


def starting_power(case: Starting) -> Worked:
    """Apparent power while the motor starts, in VA: hp x kVA/hp x share of the method.

    Rises with each of them. Limits: at rated voltage; the input falls with the square of the voltage as it dips, which
    the voltage dip takes into account. The upper end of a code letter's band is the safe one.
    """
    if min(case.horsepower, case.locked_rotor, case.method.share) < 0:
        raise OutsideLimits("Horsepower, locked-rotor input and share of the method must not be below zero.")
    paper = Paper()
    size = paper.write("motor", "nameplate", case.horsepower, "hp")
    each = paper.write("locked-rotor input", "each horsepower", case.locked_rotor, "kVA/hp", case.locked_rotor_from)
    share = paper.write("share of the method", case.method.name, case.method.share, "", case.method.source)
    power = size.value * each.value * share.value * _VA_PER_KVA
    paper.write("starting power", f"{size.letter} x {each.letter} x {share.letter} x 1000", power, "VA")
    return paper.result()


STARTING_POWER: Method[Starting] = Method(
    "motor_starting_power",
    "Apparent power while a motor starts",
    "hp x kVA/hp x share of the starting method",
    "NFPA 70, 430.7(B); shares of starting methods are common practice",
    "At rated voltage.",
    {"horsepower": Direction.RISES, "locked_rotor": Direction.RISES, "method.share": Direction.RISES},
    starting_power,
)


def _locked_rotor_current(point: Mapping[str, Fraction]) -> Fraction:
    if point["phases"] not in (1, 3):
        raise OutsideLimits("Locked-rotor current is worked out for one or three phases.")
    if point["voltage"] <= 0 or point["starting"] < 0:
        raise OutsideLimits("Locked-rotor current needs a voltage above zero and an input of zero or more.")
    return point["starting"] / (square_root(point["phases"]) * point["voltage"])


LOCKED_ROTOR_CURRENT = Calculation(
    name="locked_rotor_current",
    title="Locked-rotor current",
    inputs=(
        Input("starting", "apparent power while the motor starts", "apparent_power", Direction.RISES),
        Input("voltage", "voltage between phase conductors", "voltage", Direction.FALLS),
        Input("phases", "phases", "count", Direction.NEITHER),
    ),
    gives="load_current",
    unit="A",
    formula="I = S / (k x V), k = 1 for one phase, square root of 3 for three phases",
    source="definition of apparent power; NFPA 70, 430.7(B)",
    limits="One or three phases, at rated voltage.",
    function=_locked_rotor_current,
)
"""Line current in amperes while the motor starts: S in VA over k V."""

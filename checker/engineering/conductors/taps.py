"""Taps of feeders: the least ampacity that one of the rules of 240.21(B) of NFPA 70 asks for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class TapRule:
    """One rule of 240.21(B): up to ``longest`` (ft; None: any length), the ampacity at least this ``share`` of the
    device ahead, the share only where the tap leaves its enclosure, the tap outdoors but at its end.
    """

    name: str
    longest: Fraction | None
    share: Fraction
    share_only_outside_enclosure: bool
    ends_in_one_device: bool
    outdoors: bool
    source: str


@dataclass(frozen=True, slots=True)
class Tap:
    """A tap: length (ft), the device ahead of the conductors that are tapped, load and rating of what it ends in (A),
    and how it is laid. ``end_rating`` is None where it ends in no device.
    """

    length: Fraction
    device: Fraction
    load: Fraction
    end_rating: Fraction | None
    ends_in_one_device: bool
    leaves_enclosure: bool
    protected_from_damage: bool
    outdoors: bool
    rules: tuple[TapRule, ...]


def tap_ampacity(tap: Tap) -> Worked:
    """The least ampacity in A of a tap, by the rule of 240.21(B) that asks for the least; no next rating above.

    I = max(load, rating of the device at its end, share x device ahead). It rises with each of the three, and with the
    length, as longer taps have fewer rules. OutsideLimits where no rule allows the tap. Limits: feeder taps, not from a
    tap, not over 25 ft by the rule for high bays, not the secondary of a transformer.
    """
    needed = [(_needed(tap, rule), rule) for rule in tap.rules if _allows(tap, rule)]
    if not needed:
        raise OutsideLimits("No rule of 240.21(B) allows this tap.")
    ampacity, rule = min(needed, key=lambda each: each[0])
    paper = Paper()
    load = paper.write("load of the tap", "given", tap.load, "A")
    end = paper.write("device at its end", "given", tap.end_rating or Fraction(0), "A")
    ahead = paper.write("device ahead", "given", tap.device, "A")
    share = f"{plain_text(rule.share * 100)} % of {ahead.letter}"
    how = f"the greatest of {load.letter}, {end.letter} and {share}, {rule.name}"
    paper.write("least ampacity of the tap", how, ampacity, "A", rule.source)
    return paper.result()


def _allows(tap: Tap, rule: TapRule) -> bool:
    if rule.longest is not None and tap.length > rule.longest:
        return False
    if rule.ends_in_one_device and not (tap.ends_in_one_device and tap.end_rating is not None):
        return False
    return tap.protected_from_damage and (tap.outdoors or not rule.outdoors)


def _needed(tap: Tap, rule: TapRule) -> Fraction:
    share = Fraction(0) if rule.share_only_outside_enclosure and not tap.leaves_enclosure else rule.share
    return max(tap.load, tap.end_rating or Fraction(0), share * tap.device)


TAP_AMPACITY: Method[Tap] = Method(
    "tap_ampacity",
    "Least ampacity of a tap",
    "I = max(load, rating at the end, share x device ahead)",
    "NFPA 70, 240.21(B)",
    "Feeder taps that are no transformer secondaries.",
    dict.fromkeys(("length", "device", "load", "end_rating"), Direction.RISES),
    tap_ampacity,
)

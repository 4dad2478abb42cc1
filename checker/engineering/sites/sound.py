"""Sound of a set at a distance, and of several sources together.

Levels in dBA, distances in ft. Laws of the free field: a point source falls 20 dB for ten times the distance, which is
6 dB for twice; a line source half of that. Levels add by their energy: two equal ones give 3 dB more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.powers import PI, log10, power

POINT_SOURCE, LINE_SOURCE = Fraction(20), Fraction(10)
"""Fall of the level in dB for ten times the distance, by geometry."""

_TEN = Fraction(10)
_METRES = Fraction("0.3048")
"""Metres in a foot, exact."""


def _distances(point: Mapping[str, Fraction], *names: str) -> None:
    for name in names:
        if point[name] <= 0:
            raise OutsideLimits("Sound at a distance needs distances above zero.")


def _at_distance(point: Mapping[str, Fraction]) -> Fraction:
    _distances(point, "measured_at", "distance")
    return point["level"] - POINT_SOURCE * log10(point["distance"] / point["measured_at"]) + point["correction"]


def _along_line(point: Mapping[str, Fraction]) -> Fraction:
    _distances(point, "measured_at", "distance")
    return point["level"] - LINE_SOURCE * log10(point["distance"] / point["measured_at"]) + point["correction"]


def _from_power(point: Mapping[str, Fraction]) -> Fraction:
    _distances(point, "distance")
    if point["directivity"] <= 0:
        raise OutsideLimits("The share of the sphere must be above zero.")
    spread = point["directivity"] / (4 * PI * (point["distance"] * _METRES) ** 2)
    return point["power_level"] + _TEN * log10(spread)


def _distance_for(point: Mapping[str, Fraction]) -> Fraction:
    _distances(point, "measured_at")
    over = point["level"] + point["correction"] - point["limit"]
    return point["measured_at"] * power(_TEN, over / POINT_SOURCE)


_LEVEL = Input("level", "sound level as it was measured", "sound_level", Direction.RISES)
_MEASURED = Input("measured_at", "distance at which it was measured", "length", Direction.RISES)
_DISTANCE = Input("distance", "distance", "length", Direction.FALLS)
_CORRECTION = Input("correction", "what walls add or a barrier takes", "sound_difference", Direction.RISES)
_SOURCE = "spherical spreading, physics of sound"
_LIMITS = "Free field, outside the near field of the set; walls and barriers only by the correction given."

SOUND_AT_DISTANCE = Calculation(
    name="sound_at_distance",
    title="Sound level at a distance",
    inputs=(_LEVEL, _MEASURED, _DISTANCE, _CORRECTION),
    gives="sound_level",
    unit="dBA",
    formula="L = L1 - 20 log10(d / d1) + correction",
    source=_SOURCE,
    limits=_LIMITS,
    function=_at_distance,
)
"""Level in dBA of a point source at a distance, from the level at another one."""

SOUND_OF_LINE = Calculation(
    name="sound_of_line",
    title="Sound level of a line source at a distance",
    inputs=(_LEVEL, _MEASURED, _DISTANCE, _CORRECTION),
    gives="sound_level",
    unit="dBA",
    formula="L = L1 - 10 log10(d / d1) + correction",
    source="cylindrical spreading, physics of sound",
    limits="A line that is long against the distance: a row of sets, a road.",
    function=_along_line,
)
"""The same for a source that is long against the distance: 3 dB for twice the distance."""

SOUND_FROM_POWER = Calculation(
    name="sound_from_power",
    title="Sound level from sound power",
    inputs=(
        Input("power_level", "level of sound power", "sound_level", Direction.RISES),
        Input("directivity", "share of the sphere, as a number: 1 sphere, 2 half, 4 quarter", "count", Direction.RISES),
        _DISTANCE,
    ),
    gives="sound_level",
    unit="dBA",
    formula="L = Lw + 10 log10(Q / (4 pi r^2)), r in metres",
    source="definition of sound power level, 1 pW; spreading over a part of a sphere",
    limits=_LIMITS,
    function=_from_power,
)
"""Level in dBA from a sound power level; Q is 1 for a whole sphere, 2 on hard ground, 4 before a wall."""

DISTANCE_FOR_LEVEL = Calculation(
    name="distance_for_level",
    title="Distance at which a level is reached",
    inputs=(
        _LEVEL,
        _MEASURED,
        _CORRECTION,
        Input("limit", "level that is let come to", "sound_level", Direction.FALLS),
    ),
    gives="length",
    unit="ft",
    formula="d = d1 x 10^((L1 + correction - limit) / 20)",
    source=_SOURCE,
    limits=_LIMITS,
    function=_distance_for,
)
"""Distance in ft from a point source at which its level has fallen to the limit."""


def sum_of_levels(levels: Sequence[Fraction]) -> Fraction:
    """The level of several sources together, dBA: 10 log10 of the sum of 10^(L/10). Never below the loudest one."""
    if not levels:
        raise OutsideLimits("Nothing makes any sound that could be added up.")
    loudest = max(levels)
    return loudest + _TEN * log10(sum((power(_TEN, (level - loudest) / 10) for level in levels), Fraction(0)))

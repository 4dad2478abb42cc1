"""Wire sizes: American wire gauge and thousands of circular mils, ordered by area."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType

from checker.values.number_text import DECIMAL, decimal, plain_text
from checker.values.refusals import NotationError, quoted, readable

_GAUGE_AREAS: Mapping[str, int] = {
    "18": 1620, "16": 2580, "14": 4110, "12": 6530, "10": 10_380, "8": 16_510, "6": 26_240, "4": 41_740, "3": 52_620,
    "2": 66_360, "1": 83_690, "1/0": 105_600, "2/0": 133_100, "3/0": 167_800, "4/0": 211_600,
}  # fmt: skip
"""Area in circular mils by gauge: NEC Chapter 9 Table 8, which rounds the square of the gauge's diameter,
5 mil x 92^((36 - n)/39), as ASTM B258 does (18 and 16 AWG typed from memory)."""

_KCMIL = (250, 300, 350, 400, 500, 600, 700, 750, 800, 900, 1000, 1250, 1500, 1750, 2000)
"""Sizes above the gauge in NEC Chapter 9 Table 8 (above 1000 typed from memory)."""

_BY_GAUGE = re.compile(
    r"""(?P<mark>\#|no\.?|num\.?|number|awg\s*\#?)?\s*
        (?P<gauge>[1-9][0-9]?|[1-4]\s*/\s*0|0{1,4})
        \s*-?\s*(?P<unit>awg|ga\.?|gauge)?""",
    re.IGNORECASE | re.VERBOSE,
)
_BY_AREA = re.compile(rf"(?P<area>{DECIMAL})\s*-?\s*(?P<unit>kcmil|mcm|kcm)", re.IGNORECASE)
_METRIC = re.compile(r"[0-9.,]+\s*(?:mm2|mm²|sq\.?\s*mm)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, order=True)
class WireSize:
    """A size with its name (``3 AWG``, ``350 kcmil``) and its area; compared by area alone."""

    name: str = field(compare=False)
    area_kcmil: Fraction

    @property
    def circular_mils(self) -> Fraction:
        """The area in circular mils: the number that stands for the size on the number line of possibilities."""
        return self.area_kcmil * 1000


def _sizes() -> Mapping[str, WireSize]:
    gauges = (WireSize(f"{gauge} AWG", Fraction(area, 1000)) for gauge, area in _GAUGE_AREAS.items())
    areas = (WireSize(f"{area} kcmil", Fraction(area)) for area in _KCMIL)
    return MappingProxyType({size.name: size for size in (*gauges, *areas)})


SIZES: Mapping[str, WireSize] = _sizes()
"""Every size by name, from the smallest to the largest."""

_BY_CIRCULAR_MILS: Mapping[Fraction, str] = {size.circular_mils: size.name for size in SIZES.values()}


def read_wire_size(text: str) -> WireSize:
    """A size as the trade types it: 3 AWG, #3, No. 3, #1/0, 4/0, 350 kcmil, 350 MCM; raises NotationError."""
    typed = readable(text)
    gauge = _BY_GAUGE.fullmatch(typed)
    if gauge is not None:
        return _gauge_size(typed, gauge)
    area = _BY_AREA.fullmatch(typed)
    if area is not None:
        return _area_size(typed, decimal(area["area"]))
    raise _not_a_size(typed)


def show_wire_size(area: Fraction) -> str:
    """The name of the size with this area in circular mils, or the area itself where no size has it."""
    name = _BY_CIRCULAR_MILS.get(area)
    return name if name is not None else f"{plain_text(area / 1000)} kcmil"


def _gauge_size(text: str, match: re.Match[str]) -> WireSize:
    gauge = re.sub(r"\s", "", match["gauge"])
    unmarked = match["mark"] is None and match["unit"] is None and "/" not in gauge
    if not gauge.strip("0"):
        gauge = f"{len(gauge)}/0"
    size = SIZES.get(f"{gauge} AWG")
    if size is None:
        raise NotationError(f"{quoted(text)} is not a size of building wire.", "", _next_gauge(int(gauge)))
    if unmarked:
        raise NotationError(f"{quoted(text)} has no unit.", f"Write {size.name}.")
    return size


def _next_gauge(gauge: int) -> str:
    """The nearest gauge number of the table, the thicker of two."""
    numbers = [int(known) for known in _GAUGE_AREAS if "/" not in known]
    return f"{min(numbers, key=lambda known: (abs(known - gauge), known))} AWG"


def _area_size(text: str, area: Fraction) -> WireSize:
    size = SIZES.get(f"{area} kcmil")
    if size is None:
        near = min(_KCMIL, key=lambda known: abs(known - area))
        remedy = "Smaller sizes are written in AWG." if area < _KCMIL[0] else ""
        raise NotationError(f"{quoted(text)} is not a size of building wire.", remedy, f"{near} kcmil")
    return size


def _not_a_size(text: str) -> NotationError:
    if _METRIC.fullmatch(text):
        return NotationError(f"{quoted(text)} is a metric size.", "Write the size in AWG or kcmil.")
    digits = re.search(r"[0-9]{3,}", text.replace(",", ""))
    near = f"{digits[0]} kcmil" if digits and f"{digits[0]} kcmil" in SIZES else None
    if near and digits and digits[0] == text.replace(",", ""):
        return NotationError(f"{quoted(text)} has no unit.", f"Write {near}.")
    return NotationError(f"{quoted(text)} is not a wire size.", "Write it as 3 AWG, 1/0 AWG or 350 kcmil.", near)

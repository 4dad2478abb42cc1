"""The words of a voltage system, before anything is concluded from them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.values.number_text import DECIMAL, decimal
from checker.values.refusals import NotationError, quoted, readable

_VOLTS = re.compile(
    rf"""(?P<first>{DECIMAL})\s*(?P<first_unit>kv|v)?\s*
        (?P<wye>y|wye)?\s*
        (?:/\s*(?P<second>{DECIMAL})\s*)?
        (?P<unit>kv|volts?|vac|v\s*ac|v)?(?=[\s,;]|$)""",
    re.IGNORECASE | re.VERBOSE,
)
_PHASE = re.compile(r"(?P<count>[0-9]+|single|one|three|two)\s*-?\s*(?:phase|ph\b\.?|ø|φ|⌀|p\b)", re.IGNORECASE)
_WIRE = re.compile(r"(?P<count>[0-9]|two|three|four)\s*-?\s*(?:wires?\b|w\b)", re.IGNORECASE)
_HIGH_LEG = re.compile(r"\b(?:high|wild|red|stinger)\s*-?\s*legs?\b|\bstinger\b", re.IGNORECASE)
_CORNER = re.compile(r"\bcorner\s*-?\s*ground(?:ed)?\b", re.IGNORECASE)
_DELTA = re.compile(r"\b(?:open\s*-?\s*)?delta\b|[Δδ]", re.IGNORECASE)
_WYE = re.compile(r"\b(?:wye|star)\b|(?<![\w])y(?![\w])", re.IGNORECASE)
_SPLIT_PHASE = re.compile(r"\bsplit\s*-?\s*(?:phase|ph\b)", re.IGNORECASE)
_FILLERS = re.compile(r"\b(?:ac|system|service|solidly grounded)\b|[,;()]", re.IGNORECASE)
_DIRECT = re.compile(r"\b(?:v\s*)?dc\b|[0-9]vdc\b", re.IGNORECASE)
_COUNTS: Mapping[str, int] = {"single": 1, "one": 1, "two": 2, "three": 3, "four": 4}
_PHASES = frozenset({1, 3})
_EXAMPLE = "Write it as 120/240 V 1-phase 3-wire or 208Y/120 V 3-phase 4-wire."


@dataclass(frozen=True, slots=True)
class SystemWords:
    """What is written: the higher voltage, the lower one if there are two, and the words; None is not written."""

    text: str
    high: Fraction
    low: Fraction | None
    phases: int | None
    wires: int | None
    wye: bool
    delta: bool
    high_leg: bool
    corner: bool


def read_words(text: str) -> SystemWords:
    """Take a system apart; NotationError for a word that says nothing about a system."""
    typed = readable(text)
    if _DIRECT.search(typed):
        raise NotationError(f"{quoted(typed)} is direct current.", "Systems are alternating current. " + _EXAMPLE)
    volts = _VOLTS.match(typed)
    if volts is None:
        raise NotationError(f"{quoted(typed)} does not begin with a voltage.", _EXAMPLE)
    voltages = _voltages(typed, volts)
    rest = f" {typed[volts.end() :]} "
    rest, split_phase = _take(rest, _SPLIT_PHASE)
    rest, high_leg = _take(rest, _HIGH_LEG)
    rest, corner = _take(rest, _CORNER)
    phases, rest = _count(rest, _PHASE)
    wires, rest = _count(rest, _WIRE)
    rest, delta = _take(rest, _DELTA)
    rest, wye = _take(rest, _WYE)
    _refuse_leftover(typed, rest, phases)
    return SystemWords(
        text=typed,
        high=max(voltages),
        low=min(voltages) if len(voltages) > 1 else None,
        phases=1 if split_phase and phases is None else phases,
        wires=wires,
        wye=wye or volts["wye"] is not None,
        delta=delta,
        high_leg=high_leg,
        corner=corner,
    )


def _voltages(text: str, match: re.Match[str]) -> list[Fraction]:
    """One or two voltages in volts; a unit at the end goes for both."""
    units = [match["first_unit"] or match["unit"] or "", match["unit"] or match["first_unit"] or ""]
    digits = [match["first"], match["second"]]
    found = [
        decimal(each) * (1000 if unit.casefold() == "kv" else 1)
        for each, unit in zip(digits, units, strict=True)
        if each
    ]
    if not all(found):
        raise NotationError(f"{quoted(text)} has a voltage of zero.", _EXAMPLE)
    return found


def _take(text: str, pattern: re.Pattern[str]) -> tuple[str, bool]:
    """The text without what matches, and whether anything did."""
    rest, found = pattern.subn(" ", text)
    return rest, found > 0


def _count(text: str, pattern: re.Pattern[str]) -> tuple[int | None, str]:
    """The first count that matches, and the text without it."""
    match = pattern.search(text)
    if match is None:
        return None, text
    written = match["count"].casefold()
    return _COUNTS.get(written) or int(written), f"{text[: match.start()]} {text[match.end() :]}"


def _refuse_leftover(text: str, rest: str, phases: int | None) -> None:
    leftover = _FILLERS.sub(" ", rest).split()
    if leftover:
        raise NotationError(
            f"{quoted(' '.join(leftover))} in {quoted(text)} says nothing about a voltage system.", _EXAMPLE
        )
    if phases is not None and phases not in _PHASES:
        raise NotationError(f"{quoted(text)} has neither one phase nor three.", _EXAMPLE)

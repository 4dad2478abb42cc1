"""What to say when a number stands with no unit, the unit of another kind, or none that is known."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from checker.values.kinds import KINDS, Kind, spelling_of
from checker.values.number_text import plain_text
from checker.values.refusals import NotationError, nearest, quoted

_NEIGHBOURS: Mapping[tuple[str, str], str] = {
    ("active_power", "apparent_power"): "Write kW, or give power factor and apparent power.",
    ("apparent_power", "active_power"): "Write kVA; of what heats it is the same figure as kW.",
    ("load_current", "fault_current"): "Write A; a fault rating is a fact of its own.",
    ("motor_power", "active_power"): "Write hp as on the nameplate.",
    ("sound_level", "unweighted_sound_level"): "Write dBA, if the sheet says A-weighted.",
    ("unweighted_sound_level", "sound_level"): "A-weighted levels say nothing of it; write dB, if the survey has it.",
    ("gas_flow", "heat_rate"): "Write ft3/h, or give heat rate and heating value.",
    ("heat_rate", "gas_flow"): "Write BTU/h, or give gas flow and heating value.",
    ("voltage", "dc_voltage"): "Write V for alternating voltage.",
    ("energy", "active_power"): "Write kWh.",
}
"""What to write where one kind (first) is wanted and another (second) is taken for it."""

_SUGGESTED = 2
_POLES = re.compile(r"(?P<unit>.*?)\s*[/,]?\s*(?P<poles>[1-4])\s*-?\s*p(?:oles?)?", re.IGNORECASE)
_CYCLES = frozenset({"cycle", "cycles", "cyc"})
_CALENDAR = frozenset({"month", "months", "mo", "year", "years", "yr", "yrs"})
_USUAL_FREQUENCY = 60


def refusal(text: str, number: Fraction, unit: str, wanted: Kind) -> NotationError:
    """The error for ``text``, read as a number and a unit that the wanted kind does not have."""
    if not unit:
        return _bare(text, number, wanted)
    return (
        _confusable(text, number, unit, wanted)
        or _other_kind(text, unit, wanted)
        or _attached(text, number, unit, wanted)
        or _unknown(unit, wanted)
    )


def bare_ratio(text: str, number: Fraction) -> NotationError:
    """The error for a number above 1 without a unit where a percentage is wanted."""
    shown = plain_text(number)
    return NotationError(
        f"{quoted(text)} can be meant as {shown} % or as {plain_text(number * 100)} %.",
        f"Write {shown} % or {plain_text(number * 100)} %.",
    )


def _bare(text: str, number: Fraction, wanted: Kind) -> NotationError:
    shown = plain_text(number)
    suggested = " or ".join(f"{shown} {symbol}" for symbol in wanted.symbols[:_SUGGESTED] if symbol)
    return NotationError(f"{quoted(text)} has no unit.", f"Write {suggested}.")


def _confusable(text: str, number: Fraction, unit: str, wanted: Kind) -> NotationError | None:
    """Units that are read in two ways, or mean nothing alone."""
    spelled = spelling_of(unit)
    shown = plain_text(number)
    mega = wanted.units.get(f"M{spelled[1:]}") if spelled.startswith("m") else None
    if mega is not None:
        return NotationError(
            f"{quoted(text)} begins its unit with a small m, which means one thousandth.",
            f"Write {shown} {mega.symbol}, if millions are meant.",
        )
    if wanted.name == "duration" and spelled in _CYCLES:
        return NotationError(
            f"{quoted(text)} is a time only together with a frequency.",
            f"Write {plain_text(number * 1000 / _USUAL_FREQUENCY)} ms, if the frequency is {_USUAL_FREQUENCY} Hz.",
        )
    if wanted.name == "duration" and spelled in _CALENDAR:
        return NotationError(
            f"{quoted(text)} is counted by the calendar; this fact is {wanted.label}.", "Write days or hours."
        )
    if wanted.name == "duration" and spelled == "m":
        return NotationError(f"{quoted(text)} may mean minutes or months.", f"Write {shown} min.")
    if wanted.name == "pressure" and spelled in ("psia", "psi a"):
        return NotationError(
            f"{quoted(text)} is absolute pressure; this fact is pressure above the atmosphere.",
            "Write psi, as on a gauge.",
        )
    if wanted.name == "heat_rate" and spelled in ("mbtu/h", "mbtuh", "mbtu/hr", "mbtu/hour"):
        return NotationError(
            f"{quoted(text)} is read as thousands by some and as millions by others.",
            f"Write {shown} MBH for thousands or {shown} MMBTU/h for millions.",
        )
    return None


def _other_kind(text: str, unit: str, wanted: Kind) -> NotationError | None:
    other = next((kind for kind in KINDS.values() if kind.unit(unit) is not None), None)
    if other is None:
        return None
    remedy = _NEIGHBOURS.get((wanted.name, other.name)) or _write(wanted)
    return NotationError(f"{quoted(text)} is {other.label}; this fact is {wanted.label}.", remedy)


def _attached(text: str, number: Fraction, unit: str, wanted: Kind) -> NotationError | None:
    """A known unit with something behind it that is a fact of its own, or a mark of doubt."""
    poles = _POLES.fullmatch(unit)
    if poles and wanted.unit(poles["unit"]) is not None:
        rating = f"{plain_text(number)} {poles['unit'].strip()}"
        return NotationError(
            f"{quoted(text)} gives a rating and a number of poles together.",
            f"Write {rating} here and the {poles['poles']} poles as a fact of their own.",
        )
    if unit.endswith("?"):
        return NotationError(
            f"{quoted(text)} is marked as doubtful.",
            "Write what is possible, as 8 to 12, or the figure with per: assumed.",
        )
    if unit.endswith(")") and "(" in unit:
        return NotationError(
            f"{quoted(text)} has a remark in brackets.",
            "Write the value alone, and where it comes from as per: beside it.",
        )
    return None


def _unknown(unit: str, wanted: Kind) -> NotationError:
    near = nearest(spelling_of(unit), wanted.units)
    symbol = wanted.units[near].symbol if near else None
    return NotationError(f"{quoted(unit)} is not a unit for {wanted.label}.", _write(wanted), symbol or None)


def _write(wanted: Kind) -> str:
    symbols = [symbol for symbol in wanted.symbols if symbol]
    if not symbols:
        return "Write the number alone."
    *first, last = symbols
    return f"Write {', '.join(first)} or {last}." if first else f"Write {last}."

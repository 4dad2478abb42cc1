"""What the motors among the loads feed back into a fault, as a bound: they may stand still."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.faults.motors import Motors, motor_contribution
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived
from checker.facts.faults.numbers import MOTOR_MULTIPLE, share
from checker.facts.faults.sources import is_stated
from checker.facts.known import Known
from checker.facts.numbers import cited
from checker.facts.two_ends import amount
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import ABSENT, Possible, between

READS = (
    *("name", "load_kind", "load_power", "motor_driven", "behind_converter"),
    *("motor_voltage", "motor_phases", "system"),
)

TITLE = "What motors feed into a fault"
LIMITS = (
    "First cycles of a bolted fault; after about four nothing is left. Every motor running. Small motors inside of "
    "other loads, as fans and drums, and what is plugged in are not counted."
)
_DRIVEN = ("cooling", "heat_pump")
"""Loads that a motor drives whatever the drawing says."""

_PERHAPS_DRIVEN = ("appliance", "kitchen")
_THREE = 3
_FROM_MEMORY = "IEEE Std 141 and fault-current handbooks, from memory"


@dataclass(frozen=True, slots=True)
class _Motor:
    """A load that may be a motor on the line, its rating, the voltage that its rating is divided by (V, the root of
    three in it for three phases; None: not known), and its full-load current at the most (A; None: no end).
    """

    load: Subject
    power: Known
    volts: Fraction | None
    amperes: Fraction | None


def of_site(context: Context, subject: Subject, name: str) -> Derived:
    """At most the multiple x the sum of the full-load currents of every load that may be a motor without a converter
    between; no end while loads may be missing, or one of them tells no rating. Nothing where it is sure that none is.

    A current is the rating over the lowest voltage at which the load may lie; where transformers are drawn, over the
    lowest on the drawing, so that the bound holds on both sides of them.
    """
    multiple, listed = share(context.numbers, MOTOR_MULTIPLE), context.members("loads")
    if multiple is None or not listed.complete:
        return Derived(_anything())
    motors = [_motor(context, load) for load in listed.members if _may_feed_back(context, load)]
    if not motors:
        return Derived(ABSENT)
    currents = [each.amperes for each in motors if each.amperes is not None]
    if len(currents) < len(motors):
        return Derived(_anything())
    worked = motor_contribution(Motors(currents, multiple))
    sheet = _sheet(context, subject, name, motors, multiple, worked.value)
    return Derived(between(0, rounded(worked.value)).union(ABSENT), unit="kA", worksheet=sheet)


def _anything() -> Possible:
    return between(0, None).union(ABSENT)


def _may_feed_back(context: Context, load: Subject) -> bool:
    """Whether a load may be a motor with nothing between it and the line that keeps it from feeding back."""
    kinds = {str(each) for each in context.read(load, "load_kind").atoms}
    if not kinds & {*_DRIVEN, *_PERHAPS_DRIVEN}:
        return False
    if not kinds <= set(_DRIVEN) and True not in _said(context, load, "motor_driven").atoms:
        return False
    return False in context.read(load, "behind_converter").atoms


def _said(context: Context, load: Subject, name: str) -> Possible:
    """What is said of a load, and anything where nothing is: it only narrows the bound, and nobody is asked for it."""
    return context.read(load, name) if is_stated(context, load, name) else context.catalog.facts[name].anything()


def _motor(context: Context, load: Subject) -> _Motor:
    power = context.known(load, "load_power")
    hull = power.value.hull
    if hull is None or hull.high is None or power.value.undefined:
        return _Motor(load, power, None, None)
    volts = _volts(context, load)
    return _Motor(load, power, volts, hull.high / volts if volts else None)


def _volts(context: Context, load: Subject) -> Fraction | None:
    """What the rating is divided by at the least, for three phases with the root of three."""
    is_three = _said(context, load, "motor_phases").atom == "three"
    own = _said(context, load, "motor_voltage").hull
    low = None if own is None else own.low
    drawn = tuple(_drawn_volts(context, is_three=is_three)) if not low or context.drawing.of("transformer") else ()
    if None in drawn:
        return None
    ends = [each for each in (low, *drawn) if each]
    if not ends:
        return None
    return min(ends) * (ROOT_OF_THREE if is_three else 1)


def _drawn_volts(context: Context, *, is_three: bool) -> Iterator[Fraction | None]:
    """The lowest voltages of the systems on the drawing: of a motor on three phases between lines, of one that may be
    on a single phase to the neutral where there is one.
    """
    drawing = context.drawing
    for tag in (*drawing.of("source"), *drawing.of("transformer")):
        piece = drawing.pieces[tag]
        between_lines, to_neutral = context.read(piece, "system.voltage").hull, None
        if not is_three:
            neutral = context.read(piece, "system.to_neutral")
            to_neutral = neutral.hull
            if not neutral.only_absent and (to_neutral is None or not to_neutral.low):
                yield None
        found = to_neutral or between_lines
        yield None if found is None else found.low


def _sheet(
    context: Context, subject: Subject, name: str, motors: Sequence[_Motor], multiple: Fraction, most: Fraction
) -> Worksheet:
    lines = [_given(context, str(place), each) for place, each in enumerate(motors, start=1)]
    total = sum((each.amperes or Fraction(0) for each in motors), Fraction(0))
    how = " + ".join(line.letter for line in lines)
    lines.append(Line("a", "full-load currents of the motors", how, amount(total), "A", ""))
    source = cited(context.numbers, MOTOR_MULTIPLE) or _FROM_MEMORY
    lines.append(Line("b", "times its full-load current that a motor feeds back", "", amount(multiple), "", source))
    lines.append(Line("c", "what motors add, at most", "b x a", amount(most), "A", ""))
    return Worksheet(f"{subject}.{name}", TITLE, str(subject), tuple(lines), LIMITS)


def _given(context: Context, letter: str, motor: _Motor) -> Line:
    called = context.read(motor.load, "name").atom
    hull = motor.power.value.hull
    power = amount(hull.high) if hull is not None and hull.high is not None else ""
    how = f"{power} VA / {amount(motor.volts or Fraction(0))} V"
    quantity = f"full-load current of {called or motor.load}"
    return Line(letter, quantity, how, amount(motor.amperes or Fraction(0)), "A", source_text(motor.power))

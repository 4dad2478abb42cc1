"""The gas pressure at a set as the line was planned."""

from __future__ import annotations

from collections.abc import Callable

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import line
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between

READS = (*OF_THE_LINE, "gas_pressure", "design_pressure_loss")
AT_REST_READS = (*OF_THE_LINE, "gas_pressure")

_UNIT = "in wc"
_LIMITS = "While the pipe carries what is asked of it, and meter or regulator hold their pressure."


def at_full_load(context: Context, subject: Subject, name: str) -> Derived:
    """P = p - dH: the pressure at which the line of the set begins, less what its pipe may lose."""

    def found(source: Subject) -> Derived:
        pressure, loss = context.known(source, "gas_pressure"), context.known(source, "design_pressure_loss")
        value = _less(pressure.value, loss.value)
        facts = context.catalog.facts
        rows = (("gas_pressure", pressure), ("design_pressure_loss", loss))
        lines = [
            SheetLine(str(place), facts[fact].title, source.id, _text(context, fact, each.value), "", source_text(each))
            for place, (fact, each) in enumerate(rows, start=1)
        ]
        lines.append(SheetLine("a", "pressure at the set", "1 - 2", _text(context, name, value), "", ""))
        title = "Gas pressure at the set"
        return Derived(
            value, unit=_UNIT, worksheet=Worksheet(f"{subject.id}.{name}", title, subject.id, tuple(lines), _LIMITS)
        )

    return _of_the_line(context, subject, found)


def at_rest(context: Context, subject: Subject, _name: str) -> Derived:
    """The pressure at which the line of the set begins: with nothing flowing nothing is lost."""
    return _of_the_line(context, subject, lambda source: Derived(context.read(source, "gas_pressure"), unit=_UNIT))


def _of_the_line(context: Context, subject: Subject, found: Callable[[Subject], Derived]) -> Derived:
    try:
        pipes = line(context)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    last = next((pipe for pipe in pipes.pipes if pipe.end == subject.id.casefold()), None)
    source = None if last is None else pipes.source(last)
    return no_answer(f"no gas pipe to {subject} is shown") if source is None else found(source)


def _less(pressure: Possible, loss: Possible) -> Possible:
    given, lost = pressure.hull, loss.hull
    if given is None or lost is None:
        return between(None, None)
    low = None if given.low is None or lost.high is None else rounded(given.low - lost.high)
    high = None if given.high is None or lost.low is None else rounded(given.high - lost.low)
    return between(low, high)


def _text(context: Context, fact: str, value: Possible) -> str:
    return value_text(context.catalog.facts[fact], value, _UNIT)

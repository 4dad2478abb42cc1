"""What is asked of the gas line: of each piece of pipe, of the meter, of a tank."""

from __future__ import annotations

from collections.abc import Sequence

from checker.catalog.wording import number_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.fuel.burnt import Measure, where_given
from checker.facts.fuel.ends import Ends, ends_of, perhaps, total
from checker.facts.fuel.hanging import may_have_more, outlets_past
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import line
from checker.site.model import Subject

OF_EVERYTHING = ("gas_demand", "heat_demand", "name")
OF_A_PIPE = (*OF_THE_LINE, "gas_demand", "heat_demand", "piped_gas")

_NO_DIVERSITY = "Everything runs at its full input at once; only who approves the plans can allow less."
_OPEN = "The lists of gas pipes and appliances are not said to be complete."


def asked_of_a_pipe(measure: Measure) -> Work:
    """Everything past a piece of pipe, without diversity."""

    def work(context: Context, subject: Subject, _name: str) -> Derived:
        try:
            found = line(context)
        except OutsideLimits as limit:
            return no_answer(str(limit))
        pipe = found.of(subject)
        outlets = tuple(outlets_past(found, pipe))
        return _summed(context, subject, measure, outlets, found.unnamed, more=may_have_more(found, pipe))

    return work


def asked_of_the_meter(measure: Measure) -> Work:
    """Everything that is connected: all sets on this gas, and all appliances."""

    def work(context: Context, subject: Subject, _name: str) -> Derived:
        drawing = context.drawing
        if len(drawing.of("gas_meter")) > 1:
            reason = "with several gas meters the drawing does not say what hangs on which"
            return no_answer(reason)
        listed = context.members("gas_appliances")
        outlets = (*(drawing.pieces[tag] for tag in drawing.of("generator")), *listed.members)
        return _summed(context, subject, measure, outlets, (), more=not listed.complete)

    return work


def _summed(
    context: Context,
    subject: Subject,
    measure: Measure,
    outlets: Sequence[Subject],
    possible: Sequence[Subject],
    *,
    more: bool,
) -> Derived:
    """The sum of what hangs there, with what possibly does; no upper end where more may hang there."""
    values = {each: context.read(each, measure.demand) for each in (*outlets, *possible)}
    reasons = sorted(reason for value in values.values() for reason in value.undefined)
    if reasons:
        return no_answer(reasons[0])
    asked = total(ends_of(values[each]) for each in outlets)
    asked = asked + total(perhaps(ends_of(values[each])) for each in possible)
    asked = Ends(asked.least, None) if more else asked
    # Of the gas that is not piped nobody wants to see a calculation.
    other = subject.type == "gas_pipe" and context.read(subject, "piped_gas").atom not in (None, measure.gas)
    sheet = None if other else _sheet(context, subject, measure, outlets, asked)
    return Derived(asked.value, unit=measure.unit, worksheet=sheet)


def _sheet(context: Context, subject: Subject, measure: Measure, outlets: Sequence[Subject], asked: Ends) -> Worksheet:
    lines = [
        SheetLine(
            str(place),
            _name_of(context, each),
            "",
            _amount(context, each, measure),
            "",
            where_given(context, each, measure),
        )
        for place, each in enumerate(outlets, start=1)
    ]
    how = " + ".join(each.letter for each in lines) or "nothing connected"
    lines.append(SheetLine("a", "asked for", how, number_text(asked.value, measure.quantity, measure.unit), "", ""))
    assumed = (_NO_DIVERSITY,) if asked.most is not None else (_NO_DIVERSITY, _OPEN)
    name = f"{subject.id}.{measure.demand}"
    return Worksheet(name, "Gas demand", subject.id, tuple(lines), "All inputs added.", assumed)


def _amount(context: Context, outlet: Subject, measure: Measure) -> str:
    known = context.known(outlet, measure.demand)
    return number_text(known.value, measure.quantity, known.unit or measure.unit)


def _name_of(context: Context, outlet: Subject) -> str:
    if outlet.type == "generator":
        return f"{outlet.id} at full load"
    name = context.read(outlet, "name").atom
    return outlet.id if name is None else str(name)

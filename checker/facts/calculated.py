"""Runs a calculation on facts and writes down how an inspector can follow it."""

from __future__ import annotations

from collections.abc import Mapping
from string import ascii_lowercase

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import Calculation
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.derivation import Context, Derived
from checker.facts.known import Known
from checker.site.model import Subject
from checker.values.possible import Possible

Terms = Mapping[str, tuple[Subject, str]]
"""For each input of a calculation the fact that goes in."""


def calculated(context: Context, calculation: Calculation, subject: Subject, name: str, terms: Terms) -> Derived:
    """The named fact of a subject as the result of a calculation over what is possible for its inputs."""
    known = {each.name: context.known(*terms[each.name]) for each in calculation.inputs}
    result = calculation.over({name: fact.value for name, fact in known.items()})
    lines = [
        _input_line(context, letter, each.title, terms[each.name], known[each.name])
        for letter, each in zip(ascii_lowercase, calculation.inputs, strict=False)
    ]
    lines.append(_result_line(calculation, ascii_lowercase[len(lines)], result))
    sheet = Worksheet(f"{subject.id}.{name}", calculation.title, subject.id, tuple(lines), calculation.limits)
    return Derived(result, unit=calculation.unit, worksheet=sheet, reasons=result.undefined)


def _input_line(context: Context, letter: str, title: str, term: tuple[Subject, str], known: Known) -> Line:
    subject, name = term
    fact = context.catalog.facts[name]
    return Line(letter, title, f"{subject}.{name}", value_text(fact, known.value, known.unit), "", source_text(known))


def _result_line(calculation: Calculation, letter: str, result: Possible) -> Line:
    value = number_text(result, calculation.gives, calculation.unit)
    return Line(letter, calculation.title, calculation.formula, value, "", calculation.source)


def source_text(known: Known) -> str:
    """Where a value comes from: the paper and the place in the file, or how it was found."""
    if known.per and known.at:
        return f"{known.per}, {known.at}"
    return str(known.at) if known.at else known.origin.value

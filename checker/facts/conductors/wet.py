"""Whether conductors are insulated for wet places, by the type letters of their insulation (NFPA 70, 310.10(C))."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.numbers import insulation_temperatures
from checker.facts.conductors.run import INSULATION, PHASE
from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.possible import EITHER_FLAG, exactly

READS = (PHASE,)


def insulated_for_wet(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the table of insulations has a temperature for wet places; of several types on one conductor one is
    enough. No answer where the table does not have the type.
    """
    insulation = context.read(subject, INSULATION)
    if insulation.anything or not insulation.atoms:
        return Derived(EITHER_FLAG)
    try:
        table = insulation_temperatures(context.numbers)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    answers = {each: _for_wet(table, each) for each in sorted(map(str, insulation.atoms))}
    unknown = [each for each, answer in answers.items() if answer is None]
    if unknown:
        return no_answer(f"no table here tells whether insulation {' or '.join(unknown)} is for wet places")
    said = set(answers.values())
    return Derived(EITHER_FLAG if len(said) > 1 else exactly(said == {True}))


def _for_wet(table: Mapping[tuple[str, bool], Fraction], letters: str) -> bool | None:
    """Of all types that stand on the conductor; None where one that the table does not have might be for wet places."""
    types = letters.split("/")
    if any((each, True) in table for each in types):
        return True
    return False if all((each, False) in table for each in types) else None

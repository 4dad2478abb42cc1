"""Whether an enclosure is of a type that serves under all that comes at it in its place (NFPA 70, Table 110.28)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from checker.engineering.calculation import OutsideLimits
from checker.engineering.sites.enclosures import EnclosureTable, for_place
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.numbers import cited, rows_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.values.possible import ABSENT, EITHER_FLAG, exactly

ENCLOSED = ("meter", "disconnect", "transfer_switch", "panelboard", "switchboard", "transformer")
CONDITIONS, PLACE, TYPE = "place_conditions", "place", "enclosure"
READS = (CONDITIONS, PLACE, TYPE)

OUTDOORS, INDOORS = "enclosure-types-outdoors", "enclosure-types-indoors"
NUMBERS = (OUTDOORS, INDOORS)
"""The tables that are read here."""


def serves_there(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the type of the enclosure is made for every condition that is said of its place, indoors or outdoors.
    None where no condition is said.
    """
    conditions = context.read(subject, CONDITIONS)
    if not any(each.perhaps for each in conditions.sets):
        return Derived(ABSENT)
    types = context.read(subject, TYPE)
    if types.anything or not types.atoms:
        return Derived(EITHER_FLAG)
    try:
        answers = frozenset(_answers(context, subject, frozenset(map(str, types.atoms))))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(EITHER_FLAG if len(answers) > 1 else exactly(answers == {True}))


def _answers(context: Context, subject: Subject, types: frozenset[str]) -> Iterator[bool]:
    """The answers for each place and type that are possible, under what surely and under what perhaps comes at it."""
    sets = context.read(subject, CONDITIONS).sets
    said = {frozenset(each) for span in sets for each in (span.surely, span.perhaps)}
    tables = {_table_of(str(place)) for place in context.read(subject, PLACE).atoms}
    for name, type_, conditions in product(sorted(tables), sorted(types), sorted(said, key=sorted)):
        yield not conditions or _serves(enclosure_table(context.numbers, name), type_, conditions)


def _table_of(place: str) -> str:
    return OUTDOORS if place == "outdoors" else INDOORS


def _serves(table: EnclosureTable, type_: str, conditions: frozenset[str]) -> bool:
    """A type that the table does not have is made for the other kind of place."""
    known = frozenset[str]().union(*table.serving.values())
    return type_ in known and for_place(type_, sorted(conditions), table).serves


def enclosure_table(numbers: NumbersInForce, name: str) -> EnclosureTable:
    """The types that serve, by condition; OutsideLimits where the documents in force have no such table."""
    serving: dict[str, set[str]] = {}
    for row in rows_in_force(numbers, name):
        types = serving.setdefault(str(row.keys["condition"].atom), set())
        if row.value.atom is True:
            types.add(str(row.keys["type"].atom))
    return EnclosureTable({condition: frozenset(types) for condition, types in serving.items()}, cited(numbers, name))

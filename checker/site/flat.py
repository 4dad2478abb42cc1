"""Flat pieces of the file: facts of one subject, parts of one structure.

Cerberus converts and checks them; what a person reads is worded here and in ``unknown_fields``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from checker.catalog.flat_schemas import FlatSchema, fact_schema, field_rules, part_schema
from checker.catalog.model import Catalog, Fact
from checker.catalog.reading.structures import StructureReader
from checker.catalog.reading.written import Written
from checker.files.yaml.tree import Entry
from checker.site.bounds import within_physical
from checker.site.model import Stated
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import UnknownFields
from checker.site.validator import FlatValidator, MissingPiece, Tools
from checker.values.positions import Position

_MOST_FIELDS = 300
"""More fields than any piece has facts; a limit of effort."""

Tell = Callable[[Entry], None]


class FlatReader:
    """Reads flat pieces of one site and adds what is wrong with them to the problems."""

    def __init__(
        self, catalog: Catalog, missing_piece: MissingPiece, missing_way: MissingPiece, problems: ProblemList
    ) -> None:
        self._catalog = catalog
        self._problems = problems
        self._unknown = UnknownFields(catalog, problems)
        self._tools = Tools(catalog, StructureReader(self._parts), missing_piece, missing_way)
        self._schemas: dict[str, FlatSchema] = {}
        self._validators: dict[str, FlatValidator] = {}

    def facts(
        self, subject: str, entries: Sequence[Entry], at: Position, keys: Iterable[str] = ()
    ) -> dict[str, Stated]:
        """The facts of one subject of this type.

        ``at`` is where the subject stands; ``keys`` are the other keys that can stand there, for nearest names.
        """
        schema = self._schema(subject, lambda: fact_schema(self._catalog, subject))
        known = (*schema, *keys)

        def tell(entry: Entry) -> None:
            self._unknown.tell_fact(entry.key, entry.at, subject, known)

        written = {
            entry.key: Written(self._catalog.facts[entry.key], entry.value) for entry in entries if entry.key in schema
        }
        converted, missing = self._run(subject, entries, written, tell, at)
        for name in missing:
            title = self._catalog.facts[name].title
            one = self._unknown.one(subject)
            self._problems.add(f"{name} is missing: {one} always says it ({title}).", at, f"Write {name}: ...")
        return self._within_physical(converted)

    def alone(self, fact: Fact, entry: Entry) -> Mapping[str, Stated]:
        """One fact without its subject, derived ones too; the key of the entry need not be its name."""
        key = f"{fact.name}!"
        self._schema(key, lambda: {fact.name: field_rules(fact)})
        renamed = Entry(fact.name, entry.at, entry.value)
        found = self._run(key, [renamed], {fact.name: Written(fact, entry.value)}, lambda _: None, entry.at)[0]
        return self._within_physical(found)

    def _parts(self, whole: Fact, entries: Sequence[Entry], per: str | None, none_allowed: bool) -> dict[str, Stated]:
        key = f"{whole.name}."
        schema = self._schema(key, lambda: part_schema(self._catalog, whole))

        def tell(entry: Entry) -> None:
            self._unknown.tell_part(entry.key, entry.at, whole)

        written = {
            entry.key: Written(self._catalog.facts[f"{whole.name}.{entry.key}"], entry.value, per, none_allowed)
            for entry in entries
            if entry.key in schema
        }
        return self._run(key, entries, written, tell, entries[0].at)[0]

    def _run(
        self, schema: str, entries: Sequence[Entry], written: Mapping[str, Written], tell: Tell, at: Position
    ) -> tuple[dict[str, Stated], tuple[str, ...]]:
        """The facts that were understood and the names of missing fields; everything else goes to the problems."""
        if len(entries) > _MOST_FIELDS:
            self._problems.add(f"More than {_MOST_FIELDS} lines stand here.", at, "Check the indentation.")
            return {}, ()
        by_key = {entry.key: entry for entry in entries}
        outcome = self._validator(schema).run({**by_key, **written})
        self._problems.extend(outcome.problems)
        for key in outcome.unknown:
            tell(by_key[key])
        found = {name: each for field in outcome.converted.values() for name, each in field.facts.items()}
        return found, outcome.missing

    def _within_physical(self, facts: Mapping[str, Stated]) -> dict[str, Stated]:
        """Open ends closed, once everything that a person wrote has been checked as written, parts included."""
        return {name: within_physical(each, self._catalog.facts[name]) for name, each in facts.items()}

    def _schema(self, key: str, make: Callable[[], FlatSchema]) -> FlatSchema:
        schema = self._schemas.get(key)
        if schema is None:
            schema = self._schemas[key] = make()
        return schema

    def _validator(self, schema: str) -> FlatValidator:
        validator = self._validators.get(schema)
        if validator is None:
            validator = self._validators[schema] = FlatValidator(self._schemas[schema], self._tools)
        return validator

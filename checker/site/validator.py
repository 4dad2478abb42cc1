"""Cerberus with our conversions and checks, one for each hook that the schemas of the fact catalog name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from cerberus import Validator
from cerberus.errors import COERCION_FAILED, REQUIRED_FIELD, UNKNOWN_FIELD, BaseErrorHandler, ErrorDefinition
from cerberus.schema import UnvalidatedSchema

from checker.catalog.flat_schemas import FlatSchema
from checker.catalog.model import Catalog
from checker.catalog.reading.structures import StructureReader
from checker.catalog.reading.values import read_plain
from checker.catalog.reading.written import Converted, Written
from checker.site.bounds import out_of_bounds
from checker.site.model import Stated
from checker.values.problems import Problem, Unreadable

MissingPiece = Callable[[str, Stated], Iterable[Problem]]
"""What is wrong with the tags, or with the ways, that a fact names."""

_REFUSED = ErrorDefinition(0x1000, None)
"""Our own error of Cerberus: its info is the problem."""


@dataclass(frozen=True, slots=True)
class Tools:
    """What the conversions and checks need besides the value."""

    catalog: Catalog
    structures: StructureReader
    missing_piece: MissingPiece
    missing_way: MissingPiece


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came out of one flat piece: fields that were understood, problems, names of fields unknown and missing."""

    converted: Mapping[str, Converted]
    problems: tuple[Problem, ...]
    unknown: tuple[str, ...]
    missing: tuple[str, ...]


class _Silent(BaseErrorHandler):  # type: ignore[misc]  # Cerberus comes without types
    """Formats nothing: the errors themselves are read."""


class _Conversions(Validator):  # type: ignore[misc]  # Cerberus comes without types
    """The hooks. A conversion never raises: Cerberus would turn what it raises into a text."""

    def _plain(self, written: Written) -> Converted:
        try:
            return Converted({written.fact.name: read_plain(written)})
        except Unreadable as error:
            return Converted(problems=error.problems)

    _normalize_coerce_choice = _normalize_coerce_choices = _normalize_coerce_flag = _normalize_coerce_text = _plain
    _normalize_coerce_count = _normalize_coerce_quantity = _normalize_coerce_wire_size = _normalize_coerce_date = _plain
    _normalize_coerce_tag = _normalize_coerce_way = _plain

    def _normalize_coerce_structure(self, written: Written) -> Converted:
        try:
            return self._tools.structures.read(written)
        except Unreadable as error:
            return Converted(problems=error.problems)

    def _check_with_understood(self, field: str, value: object) -> None:
        self._refuse(field, _converted(value).problems)

    def _check_with_bounds(self, field: str, value: object) -> None:
        for name, stated in _converted(value).facts.items():
            self._refuse(field, out_of_bounds(stated, self._tools.catalog.facts[name]))

    def _check_with_existing_piece(self, field: str, value: object) -> None:
        for stated in _converted(value).facts.values():
            self._refuse(field, self._tools.missing_piece(field, stated))

    def _check_with_existing_way(self, field: str, value: object) -> None:
        for stated in _converted(value).facts.values():
            self._refuse(field, self._tools.missing_way(field, stated))

    def _refuse(self, field: str, problems: Iterable[Problem]) -> None:
        for problem in problems:
            self._error(field, _REFUSED, problem)

    @property
    def _tools(self) -> Tools:
        tools: Tools = self._config["tools"]
        return tools


def _converted(value: object) -> Converted:
    """What came out of a conversion; nothing where it broke, for Cerberus checks such a value too."""
    return value if isinstance(value, Converted) else Converted()


class FlatValidator:
    """Converts and checks the pieces of one schema, which is taken as it is: it comes from our own catalog."""

    def __init__(self, schema: FlatSchema, tools: Tools) -> None:
        self._validator = _Conversions(UnvalidatedSchema(schema), error_handler=_Silent(), tools=tools)

    def run(self, document: Mapping[str, object]) -> Outcome:
        """``document`` holds a Written for each field of the schema, and anything under other names."""
        self._validator.validate(document)
        problems: list[Problem] = []
        fields: dict[int, list[str]] = {UNKNOWN_FIELD.code: [], REQUIRED_FIELD.code: []}
        for error in self._validator._errors:  # noqa: SLF001  the documented way to the errors themselves
            if error.code == _REFUSED.code:
                problems.extend(error.info)
            elif error.code == COERCION_FAILED.code:
                raise RuntimeError(f"a conversion broke: {error.info[0]}")
            else:
                fields[error.code].append(error.document_path[-1])
        return Outcome(
            self._understood(), tuple(problems), tuple(fields[UNKNOWN_FIELD.code]), tuple(fields[REQUIRED_FIELD.code])
        )

    def _understood(self) -> dict[str, Converted]:
        document: Mapping[str, Any] = self._validator.document
        return {field: value for field, value in document.items() if isinstance(value, Converted)}

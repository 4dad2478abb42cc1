"""Cerberus takes our schemas as schemas of its own, and its errors are the ones that we look at."""

import pytest
from cerberus import SchemaError

from checker.catalog.flat_schemas import FlatSchema, cerberus_schemas, part_schema
from checker.catalog.model import ValueType
from checker.catalog.reading.structures import StructureReader
from checker.catalog.reading.written import Written
from checker.files.yaml.tree import Scalar
from checker.site.validator import FlatValidator, Tools, _Conversions
from checker.values.positions import Position
from tests.site.reading import CATALOG

AT = Position("a.yaml", 1, 1)
SCHEMAS = cerberus_schemas(CATALOG)
TOOLS = Tools(CATALOG, StructureReader(lambda *_: {}), lambda *_: (), lambda *_: ())


@pytest.mark.parametrize("subject", SCHEMAS)
def test_every_schema_is_one_that_cerberus_takes(subject: str) -> None:
    """The program leaves this check out: it takes longer than reading a site."""
    _Conversions(SCHEMAS[subject])


def test_schemas_of_parts_too() -> None:
    wholes = [fact for fact in CATALOG.facts.values() if fact.parts]
    assert wholes
    for whole in wholes:
        assert set(part_schema(CATALOG, whole)) == set(whole.parts)
        _Conversions(part_schema(CATALOG, whole))


def test_a_hook_that_does_not_exist_would_be_seen() -> None:
    with pytest.raises(SchemaError):
        _Conversions({"place": {"check_with": "no_such_check"}})
    with pytest.raises(RuntimeError):
        FlatValidator({"place": {"coerce": "no_such_type"}}, TOOLS).run({"place": Scalar("garage", AT)})


def test_there_is_a_schema_for_every_type_of_subject() -> None:
    assert set(SCHEMAS) == CATALOG.subject_types
    assert SCHEMAS["side"] == {}
    assert "separately_derived" not in SCHEMAS["generator"]
    assert "system.voltage" not in SCHEMAS["generator"]


def test_rules_by_type_of_value() -> None:
    switch: FlatSchema = SCHEMAS["transfer_switch"]
    assert switch["neutral"] == {"coerce": "choice", "check_with": ["understood"]}
    assert switch["classes"] == {"coerce": "choices", "check_with": ["understood"]}
    assert switch["rated_current"] == {"coerce": "quantity", "check_with": ["understood", "bounds"]}
    assert switch["kind"] == {"coerce": "choice", "check_with": ["understood"], "required": True}
    assert SCHEMAS["way"]["overcurrent"] == {"coerce": "structure", "check_with": ["understood", "bounds"]}
    assert SCHEMAS["stop"]["of"]["check_with"] == ["understood", "existing_piece"]
    hooks = {str(rules["coerce"]) for schema in SCHEMAS.values() for rules in schema.values()}
    assert hooks <= {each.value for each in ValueType} | {"choices"}


def test_fields_unknown_missing_and_understood() -> None:
    validator = FlatValidator(SCHEMAS["paper"], TOOLS)
    ended = Written(CATALOG.facts["record_ended"], Scalar("2024-03-11", AT))
    outcome = validator.run({"record_ended": ended, "papr": Scalar("manual", AT)})
    assert outcome.unknown == ("papr",)
    assert outcome.missing == ("paper",)
    assert outcome.problems == ()
    assert list(outcome.converted) == ["record_ended"]


def test_a_conversion_that_breaks_is_no_mistake_of_the_person() -> None:
    """Cerberus catches whatever a conversion raises; a defect of ours must not come out as a fault of the file."""
    validator = FlatValidator(SCHEMAS["paper"], TOOLS)
    with pytest.raises(RuntimeError, match="a conversion broke"):
        validator.run({"paper": "no Written at all"})

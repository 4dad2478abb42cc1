"""The JSON Schemas of packs, cases and profiles, made from the fact catalog.

``python -m checker.rules.schemas`` writes them into ``schemas/``; with ``--check`` it only says whether they are up to
date.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.names import OWN_CHOICE
from checker.files.folders import data_folder
from checker.rules import grammar
from checker.rules.grammar import PAPER
from checker.rules.schemas import conditions as schema_conditions
from checker.rules.schemas import files as schema_files
from checker.rules.schemas import numbers as schema_numbers
from checker.rules.schemas import rules as schema_rules
from checker.rules.schemas.described import described, meanings
from checker.rules.schemas.layers import layer_file
from checker.rules.schemas.words import (
    ANY_COMPARISON,
    ANY_CONDITION,
    ANY_OPERAND,
    FLAG,
    TEXT,
    Schema,
    a_list,
    a_map,
    an_object,
    ref,
    words,
)
from checker.rules.vocabulary import REACHING_BACK, Types, Vocabulary
from checker.rules.wording import listing
from checker.values.kinds import KINDS

SITE = "site"
_CONDITIONAL = ("when", "unless", "instead", "requires", "readings", "label", "says_where", "remedy", "cautions")
_BACK = rf"^{REACHING_BACK}\."
# Names along two links are many and rare: an editor completes the others.
_TWO_LINKS = rf"^(?:{REACHING_BACK}|[a-z_]+\.[a-z_]+)\.[a-z_]+$"
PARAMETER_TYPES = (*KINDS, "count", "wire_size", "date", "span", "choices")
TABLE_TYPES = (*KINDS, "count", "wire_size", "choice", "flag")


def pack_shape() -> Schema:
    """The shape of a file of a pack, without the names of the catalog: the reader checks those itself, in its own
    words.
    """
    rule = schema_rules.rule(TEXT, schema_rules.conditional_words(ANY_CONDITION))
    return schema_files.pack_file(
        rule,
        schema_numbers.parameter(words(*PARAMETER_TYPES)),
        schema_numbers.table(words(*TABLE_TYPES)),
        a_map("conditions by subject", ref(ANY_CONDITION)),
        _plain_definitions(),
    )


def pack_schema(catalog: Catalog) -> Schema:
    """The whole schema of a file of a pack: the names of facts, links, collections and choices by subject included."""
    return _PackSchema(Vocabulary(catalog)).schema()


def layer_schema(catalog: Catalog) -> Schema:
    """The whole schema of a layer: a rule that it adds is completed as in a pack."""
    return _PackSchema(Vocabulary(catalog)).layer()


def case_schema() -> Schema:
    """The schema of a file of cases."""
    return schema_files.case_file()


def profile_schema(catalog: Catalog | None = None) -> Schema:
    """The schema of a jurisdiction profile; with a catalog the papers and what they show are named."""
    papers = schema_files.ANY_PAPERS if catalog is None else _papers_of_every_town(catalog)
    return {**schema_files.profile_file(ANY_CONDITION, papers), "$defs": _plain_definitions()}


def _papers_of_every_town(catalog: Catalog) -> schema_files.Papers:
    """The papers of the catalog, and what they can show: a profile is read before its layers, which declare others."""
    paper, shown = (words(*catalog.facts[name].choices) for name in (PAPER, "shows"))
    return schema_files.Papers(paper, shown)


def _papers(catalog: Catalog) -> schema_files.Papers:
    """The papers of the catalog, or one that a layer declares, and what they can show."""
    paper, shown = (_choices(catalog.facts[name]) for name in (PAPER, "shows"))
    return schema_files.Papers(paper, shown)


def _choices(fact: Fact) -> Schema:
    """The choices of a fact; where a place may have some of its own, any name of the form that these have too."""
    known = words(*fact.choices)
    own: Schema = {"type": "string", "pattern": f"^(?:{OWN_CHOICE})$"}
    return {"anyOf": [known, own]} if fact.own_choices else known


def layer_shape() -> Schema:
    """The shape of a layer, without the names of the catalog: the reader checks those itself, in its own words."""
    rule = schema_rules.rule(TEXT, schema_rules.conditional_words(ANY_CONDITION))
    whole = layer_file(
        rule,
        schema_numbers.parameter(words(*PARAMETER_TYPES)),
        schema_numbers.table(words(*TABLE_TYPES)),
        ANY_CONDITION,
    )
    return {**whole, "$defs": {**_plain_definitions(), **whole["$defs"]}}


def _plain_definitions() -> dict[str, Schema]:
    """Definitions of all that packs, layers and profiles share, in which any name can stand."""
    return {
        **schema_rules.common_definitions(),
        **schema_numbers.table_definitions(),
        **schema_conditions.operand_definitions(TEXT),
        **schema_conditions.any_condition_definitions(),
        schema_rules.name_of_told(ANY_CONDITION): schema_rules.told_of(ANY_CONDITION),
    }


class _PackSchema:
    """Builds the definitions: one for each fact, and one condition for each set of types that a name can lead to."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self._catalog = vocabulary.catalog
        self._labels: dict[Types, str] = {}
        self._definitions: dict[str, Schema] = {
            **schema_rules.common_definitions(),
            **schema_numbers.table_definitions(),
            **schema_conditions.operand_definitions(self._any_fact()),
            ANY_COMPARISON: schema_conditions.any_comparison(),
        }

    def schema(self) -> Schema:
        by_subject = [self._for_subject(label, subjects) for label, subjects in self._subject_labels().items()]
        for fact in self._catalog.facts.values():
            self._define_fact(fact)
        conditional: dict[str, Schema] = {word: {} for word in _CONDITIONAL}
        subjects = words(*self._vocabulary.subjects)
        self._definitions["rule"] = schema_rules.rule(subjects, conditional, allOf=by_subject)
        labels = self._subject_labels()
        only = {f"^(?:{'|'.join(listed)})$": ref(label) for label, listed in labels.items()}
        return schema_files.pack_file(
            ref("rule"),
            schema_numbers.parameter(words(*PARAMETER_TYPES)),
            schema_numbers.table(words(*TABLE_TYPES)),
            {**an_object("conditions by subject", {}, minProperties=1), "patternProperties": only},
            dict(sorted(self._definitions.items())),
        )

    def layer(self) -> Schema:
        """The schema of a layer: rules are completed by subject; other conditions can name anything."""
        self.schema()
        whole = layer_file(
            self._definitions["rule"],
            schema_numbers.parameter(words(*PARAMETER_TYPES)),
            schema_numbers.table(words(*TABLE_TYPES)),
            ANY_CONDITION,
            _papers(self._catalog),
            f"when.{SITE}",
        )
        definitions = {**self._definitions, **schema_conditions.any_condition_definitions(), **whole["$defs"]}
        return {**whole, "$defs": dict(sorted(definitions.items()))}

    def _subject_labels(self) -> dict[str, list[str]]:
        """The subjects of a rule by the definition of their conditions."""
        found: dict[str, list[str]] = {}
        for subject in self._vocabulary.subjects:
            found.setdefault(self._condition(self._vocabulary.types_of(subject), subject), []).append(subject)
        return found

    def _for_subject(self, conditions: str, subjects: list[str]) -> Schema:
        asked: Schema = {"properties": {"subject": {"enum": subjects}}, "required": ["subject"]}
        name = f"rule-{conditions}"
        self._definitions[schema_rules.name_of_told(conditions)] = schema_rules.told_of(conditions)
        self._definitions[name] = {"properties": schema_rules.conditional_words(conditions)}
        return {"if": asked, "then": ref(name)}

    def _any_fact(self) -> Schema:
        names: dict[str, None] = {}
        for subject in self._vocabulary.subjects:
            names.update(dict.fromkeys(self._vocabulary.fact_names(self._vocabulary.types_of(subject))))
        return {"anyOf": [{"enum": sorted(names)}, {"type": "string", "pattern": _TWO_LINKS}]}

    def _condition(self, types: Types, label: str) -> str:
        """The name of the definition of conditions from these types; made once."""
        known = self._labels.get(types)
        if known is not None:
            return f"when.{known}"
        self._labels[types] = label
        me, folds = f"when.{label}", f"fold.{label}"
        facts = {name: ref(f"fact.{self._fact_of(name)}") for name in self._vocabulary.fact_names(types)}
        further = {self._along_two_links(types): ref(ANY_COMPARISON)}
        self._definitions[me] = {**schema_conditions.condition(facts, False, me, folds), "patternProperties": further}
        self._definitions.update(self._folds(folds, types))
        return me

    def _fact_of(self, name: str) -> str:
        """The fact behind a name with links: what is left when links are taken off from the left."""
        rest = name
        while rest not in self._catalog.facts:
            rest = rest.partition(".")[2]
        return rest

    def _along_two_links(self, types: Types) -> str:
        pairs = [rf"{link}\.(?:{'|'.join(further)})" for link, further in self._vocabulary.link_pairs(types)]
        return rf"^(?:{'|'.join((REACHING_BACK, *pairs))})\."

    def _folds(self, name: str, types: Types) -> dict[str, Schema]:
        by_members: dict[Types, list[str]] = {}
        for each, collection in self._vocabulary.collection_names(types):
            by_members.setdefault(collection.members, []).append(each)
        names = [each for listed in by_members.values() for each in listed]
        further = {"type": "string", "pattern": self._along_two_links(types)}
        self._definitions[f"of.{name}"] = {"anyOf": [{"enum": names}, further]}
        inner = [self._for_members(members, listed) for members, listed in by_members.items()]
        self._definitions[f"in.{name}"] = {"allOf": inner} if inner else {}
        return schema_conditions.fold_definitions(name, ref(f"of.{name}"), {}, allOf=[ref(f"in.{name}")])

    def _for_members(self, members: Types, names: list[str]) -> Schema:
        conditions = ref(self._condition(members, self._label(members)))
        return {
            "if": {"properties": {"of": {"enum": names}}, "required": ["of"]},
            "then": {"properties": {"where": conditions, "that": conditions}},
        }

    def _label(self, types: Types) -> str:
        for subject in self._vocabulary.subjects:
            if self._vocabulary.types_of(subject) == types:
                return subject
        return "-or-".join(types)

    def _define_fact(self, fact: Fact) -> None:
        relations = {relation: _relation(fact, relation) for relation in grammar.relations_of(fact)}
        described = f"{fact.title}. {fact.means}".strip()
        if fact.choices:
            described += " Choices: " + "; ".join(f"{name}: {title}" for name, title in fact.choices.items())
            self._definitions[f"choice.{fact.name}"] = _choices(fact)
        self._definitions[f"fact.{fact.name}"] = schema_conditions.comparison(relations, description=described)


def _relation(fact: Fact, relation: str) -> Schema:
    """What can stand behind one relation of one fact."""
    operand = ref(ANY_OPERAND)
    if relation == grammar.BETWEEN:
        return a_list("list of the lowest and the highest value", operand, 2, 2)
    if fact.type is ValueType.FLAG:
        return {"anyOf": [FLAG, {"type": "object"}], "if": {"type": "object"}, "then": operand}
    if fact.type is not ValueType.CHOICE:
        return operand
    choice = ref(f"choice.{fact.name}")
    if relation in grammar.LIST_RELATIONS:
        listed = a_list("list of choices", choice)
        return {"type": ["array", "object"], "if": {"type": "object"}, "then": operand, "else": listed}
    # An editor completes the choices only where they stand in anyOf.
    return {"anyOf": [choice, {"type": "object"}], "if": {"type": "object"}, "then": operand}


# --- files ----------------------------------------------------------------------------------------------------------


def files(catalog: Catalog) -> dict[str, str]:
    """The schemas by file name, as text."""
    schemas = {
        "pack.schema.json": pack_schema(catalog),
        "cases.schema.json": case_schema(),
        "profile.schema.json": profile_schema(catalog),
        "layer.schema.json": layer_schema(catalog),
    }
    means = meanings()
    return {name: _text(described(_published(schema), means)) for name, schema in schemas.items()}


def _published(schema: Any) -> Any:
    """The schema without the sentences that only our own reader tells."""
    if isinstance(schema, dict):
        return _with_yes_and_no({key: _published(value) for key, value in schema.items() if key != "x-say"})
    return [_published(each) for each in schema] if isinstance(schema, list) else schema


def _with_yes_and_no(schema: Schema) -> Schema:
    """A flag as an editor reads it: to YAML 1.2 yes and no are texts."""
    if schema.get("type") == "boolean":
        return {**{key: value for key, value in schema.items() if key != "type"}, "enum": ["yes", "no", True, False]}
    return {**schema, "enum": ["yes", True]} if schema.get("enum") == [True] else schema


def _text(schema: Schema) -> str:
    """The schema as JSON, each definition on a line of its own."""
    definitions = schema.get("$defs", {})
    head = json.dumps({key: value for key, value in schema.items() if key != "$defs"}, indent=1, ensure_ascii=False)
    if not definitions:
        return f"{head}\n"
    lines = ",\n".join(f"  {json.dumps(name)}: {_line(value)}" for name, value in definitions.items())
    return f'{head.removesuffix("}").rstrip()},\n "$defs": {{\n{lines}\n }}\n}}\n'


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def stale(catalog: Catalog, folder: Path) -> Iterator[str]:
    """The names of the schema files that are missing or are not what the catalog gives."""
    for name, text in files(catalog).items():
        path = folder / name
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            yield name


def main(arguments: Sequence[str]) -> None:
    """Write the schemas, or with ``--check`` leave with status 1 where one is not up to date."""
    catalog, folder = shipped_catalog(), data_folder("schemas")
    if list(arguments) == ["--check"]:
        names = list(stale(catalog, folder))
        if names:
            raise SystemExit(f"Not up to date: {listing(names)}. Run python -m checker.rules.schemas.")
    elif arguments:
        raise SystemExit("usage: python -m checker.rules.schemas [--check]")
    else:
        for name, text in files(catalog).items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")

"""Operands: what stands on the other side of a comparison, and whether it can stand there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.files.yaml.tree import Entry, Node, Scalar, Sequence
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import COMBINATIONS, MOST_OPERATIONS
from checker.rules.model.conditions import (
    Combined,
    FactOperand,
    FactPath,
    Lookup,
    NextSize,
    Operand,
    ParameterOperand,
    Scaled,
    Words,
)
from checker.rules.model.numbers import Table
from checker.rules.reading import nodes
from checker.rules.reading.scope import Scope
from checker.rules.reading.tables import EXACT, choices_in, words_given
from checker.rules.reading.value_kinds import CHOICES, ValueKind, kind_of_fact, kind_of_type
from checker.rules.vocabulary import Around, FactFound, NotFound, Vocabulary
from checker.rules.wording import choice_of, listing
from checker.values.positions import Position
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class Typed:
    """An operand with what it holds (None where that is not known, after a mistake) and which of its facts may be
    absent.
    """

    operand: Operand
    kind: ValueKind | None
    may_be_absent: tuple[str, ...] = ()


def find_fact(name: str, at: Position, around: Around, scope: Scope) -> FactFound | None:
    """The fact behind a name; None where there is none, which is told."""
    found = scope.vocabulary.fact(name, around)
    if isinstance(found, NotFound):
        tell_not_found(found, at, scope)
        return None
    return found


def tell_not_found(missing: NotFound, at: Position, scope: Scope) -> None:
    """Tell that a name leads nowhere, with the nearest that does."""
    near = scope.problems.near(missing.wrong, missing.instead) if missing.wrong else None
    scope.problems.add(missing.sentence, at, missing.remedy, near)


def may_be_absent(found: FactFound, scope: Scope) -> bool:
    """Whether the fact may be known not to be there, or not every kind that the name can lead to has it."""
    return may_be_absent_in(found, scope.vocabulary)


def may_be_absent_in(found: FactFound, vocabulary: Vocabulary) -> bool:
    """The same, outside a rule under way."""
    return found.partial or vocabulary.catalog.may_be_absent(found.fact)


def read_operand(node: Node, around: Around, scope: Scope) -> Typed | None:
    """One operand that is no word; None after a mistake, which is told."""
    return OperandReader(around, scope).read(node, depth=0)


class OperandReader:
    """Reads the operands of one comparison."""

    def __init__(self, around: Around, scope: Scope) -> None:
        self._around = around
        self._scope = scope

    def read(self, node: Node, depth: int) -> Typed | None:
        """One operand inside so many operations."""
        if not isinstance(node, MappingNode):
            self._refuse_literal(node)
            return None
        entry = next(each for each in node.entries if each.key not in ("skip_absent", "keys"))
        if entry.key == "fact":
            return self._fact(nodes.scalar(entry.value))
        if entry.key == "parameter":
            return self._parameter(nodes.scalar(entry.value))
        if depth == MOST_OPERATIONS:
            self._tell(
                f"More than {MOST_OPERATIONS} operations stand inside one another.", entry.at, "Add a derived fact."
            )
            return None
        if entry.key in COMBINATIONS:
            return self._combined(entry, nodes.flag(node.get("skip_absent")) or False, depth + 1)
        if entry.key == "scaled":
            return self._scaled(entry, depth + 1)
        if entry.key == "next_size":
            return self._next_size(entry, depth + 1)
        return self._lookup(nodes.scalar(entry.value), nodes.mapping(node.get("keys")), depth + 1)

    def _tell(self, sentence: str, at: Position, remedy: str = "") -> None:
        self._scope.problems.add(sentence, at, remedy)

    def _refuse_literal(self, node: Node) -> None:
        written = f"`{nodes.text(node)}`" if isinstance(node, Scalar) else "A list"
        self._tell(
            f"{written} cannot stand here: numbers live in parameters and tables.",
            node.at,
            "Put it under `parameters:` with its section and write {parameter: NAME}.",
        )

    def _fact(self, name: Scalar) -> Typed | None:
        found = find_fact(name.text.strip(), name.at, self._around, self._scope)
        if found is None:
            return None
        absent = (name.text.strip(),) if may_be_absent(found, self._scope) else ()
        path = FactPath(found.links, found.fact.name, name.at)
        return Typed(FactOperand(path), kind_of_fact(found.fact), absent)

    def _parameter(self, name: Scalar) -> Typed:
        written = name.text.strip()
        parameter = self._scope.parameter(written, name.at)
        if parameter is None:
            return Typed(ParameterOperand(written), None)
        words = (value.value for value in parameter.values.values())
        choices = frozenset(
            word for value in words if isinstance(value, Possible) for each in value.sets for word in each.surely
        )
        return Typed(ParameterOperand(written), kind_of_type(parameter.type, choices))

    def _combined(self, entry: Entry, skip_absent: bool, depth: int) -> Typed | None:
        read = [self.read(item, depth) for item in nodes.items(entry.value)]
        known = [each for each in read if each is not None]
        if len(known) < len(read):
            return None
        kind = self._one_kind(entry, known)
        absent = tuple(name for each in known for name in each.may_be_absent)
        if skip_absent and (entry.key == "sum_of" or any(not each.may_be_absent for each in known)):
            # One that is always there remains when the others are skipped; a sum of nothing is nothing.
            absent = ()
        return Typed(Combined(entry.key, tuple(each.operand for each in known), skip_absent), kind, absent)

    def _one_kind(self, entry: Entry, operands: Iterable[Typed]) -> ValueKind | None:
        """The kind that all operands have; told where they differ or cannot be reckoned with."""
        kinds = [each.kind for each in operands if each.kind is not None]
        if not kinds:
            return None
        first = kinds[0]
        other = next((kind for kind in kinds if not first.compares_with(kind)), None)
        if other is not None:
            self._tell(f"`{entry.key}` mixes {first.label} with {other.label}.", entry.at, "Take operands of one kind.")
            return None
        usable = first.is_number if entry.key == "sum_of" else first.is_ordered
        if not usable:
            self._tell(f"`{entry.key}` cannot be taken of {first.label}.", entry.at)
            return None
        return first

    def _scaled(self, entry: Entry, depth: int) -> Typed | None:
        value, factor = (self.read(item, depth) for item in nodes.items(entry.value))
        if value is None or factor is None:
            return None
        if factor.kind is not None and not factor.kind.is_ratio:
            self._tell(
                f"`scaled` multiplies by {factor.kind.label}, not by a ratio.",
                entry.at,
                "Put the ratio second, as 125 %.",
            )
        if value.kind is not None and not value.kind.is_number:
            self._tell(f"`scaled` cannot be taken of {value.kind.label}.", entry.at)
        absent = (*value.may_be_absent, *factor.may_be_absent)
        return Typed(Scaled(value.operand, factor.operand), value.kind, absent)

    def _next_size(self, entry: Entry, depth: int) -> Typed | None:
        first, second = nodes.items(entry.value)
        value = self.read(first, depth)
        if not isinstance(second, MappingNode) or second.keys() != ("table",):
            self._tell("`next_size` needs a table of sizes.", second.at, "Write [operand, {table: NAME}].")
            return None
        name = nodes.scalar(second.get("table"))
        table = self._scope.table(name.text.strip(), name.at)
        if value is None:
            return None
        if table is not None:
            self._check_sizes(table, value.kind, name.at)
        return Typed(NextSize(value.operand, name.text.strip()), value.kind, value.may_be_absent)

    def _check_sizes(self, table: Table, kind: ValueKind | None, at: Position) -> None:
        if table.keys:
            self._tell(f"`{table.name}` has keys, so it is no list of sizes.", at, "Write {table: NAME, keys: {...}}.")
            return
        given = kind_of_type(table.gives)
        if kind is not None and not given.compares_with(kind):
            self._tell(f"`{table.name}` lists {given.label}, and next_size is asked of {kind.label}.", at)

    def _lookup(self, name: Scalar, keys: MappingNode, depth: int) -> Typed | None:
        table = self._scope.table(name.text.strip(), name.at)
        read = {each.key: self._key(each, table, depth) for each in keys.entries}
        if table is not None:
            self._check_keys(table, keys)
        if any(each is None for each in read.values()):
            return None
        known = {key: each for key, each in read.items() if each is not None}
        absent = tuple(name for each in known.values() for name in each.may_be_absent)
        lookup = Lookup(name.text.strip(), {key: each.operand for key, each in known.items()})
        return Typed(lookup, None if table is None else kind_of_type(table.gives, words_given(table)), absent)

    def _check_keys(self, table: Table, keys: MappingNode) -> None:
        wanted = tuple(key.name for key in table.keys)
        if not wanted:
            self._tell(f"`{table.name}` is a list of sizes without keys.", keys.at, "Use next_size.")
            return
        meant = set()
        for entry in keys.entries:
            if entry.key not in wanted:
                near = self._scope.problems.near(entry.key, wanted)
                meant.add(near)
                self._scope.problems.add(
                    f"`{table.name}` has no key `{entry.key}`.", entry.at, f"Its keys are {listing(wanted)}.", near
                )
        # A key that is misspelt is told as that, and not as missing too.
        missing = [name for name in wanted if keys.get(name) is None and name not in meant]
        if missing:
            self._tell(f"`{table.name}` is asked without its key {listing(missing)}.", keys.at, "Add it under `keys:`.")

    def _key(self, entry: Entry, table: Table | None, depth: int) -> Typed | None:
        key = next((each for each in table.keys if each.name == entry.key), None) if table else None
        if isinstance(entry.value, Scalar) and (key is None or key.type in ("choice", "flag")):
            is_flag = key is not None and key.type == "flag"
            words = kind_of_type("flag") if is_flag else kind_of_type("choice", frozenset({entry.value.text.strip()}))
            typed: Typed | None = Typed(Words((_word(entry.value),), is_list=False), words if key else None)
        else:
            typed = self.read(entry.value, depth - 1)
        if table is not None and key is not None and typed is not None and typed.kind is not None:
            # Yes and no are all that a flag can be; no row has to name both.
            choices = frozenset() if key.type == "flag" else choices_in(table, key.name)
            self._check_key(table, entry, kind_of_type(key.type, choices), typed.kind, key.match)
        return typed

    def _check_key(self, table: Table, entry: Entry, wanted: ValueKind, found: ValueKind, match: str) -> None:
        if not wanted.compares_with(found):
            self._tell(f"The key `{entry.key}` of `{table.name}` is {wanted.label}, not {found.label}.", entry.at)
            return
        unknown = sorted(wanted.words - found.words) if isinstance(entry.value, MappingNode) else []
        missing = sorted(found.words - wanted.words) if isinstance(entry.value, Scalar) else []
        if match == EXACT and (unknown or missing):
            word = (unknown or missing)[0]
            known = found.words if unknown else wanted.words
            near = self._scope.problems.near(word, sorted(known))
            owner = "the fact" if unknown else f"`{table.name}`"
            self._scope.problems.add(
                f"`{word}` is no choice that {owner} knows for the key `{entry.key}`.",
                entry.at,
                f"Choices are {choice_of(sorted(known))}.",
                near,
            )


def _word(node: Scalar) -> str | bool:
    flag = nodes.flag(node) if nodes.is_flag(node) else None
    return node.text.strip() if flag is None else flag


def read_words(node: Node) -> Words:
    """A choice, yes or no, or a list of choices."""
    if isinstance(node, Sequence):
        return Words(tuple(_word(nodes.scalar(item)) for item in node.items), is_list=True)
    return Words((_word(nodes.scalar(node)),), is_list=False)


def is_list_kind(kind: ValueKind) -> bool:
    """Whether several choices stand together."""
    return kind.type == CHOICES

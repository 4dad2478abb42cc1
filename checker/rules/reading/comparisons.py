"""Comparisons: a fact with its relations, each of which must fit the type of the fact."""

from __future__ import annotations

from checker.catalog.model import Fact, ValueType
from checker.catalog.names import is_own_choice
from checker.files.yaml.tree import Entry, Node, Scalar
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import BETWEEN, EXISTENCE, LIST_RELATIONS, relations_of
from checker.rules.model.conditions import Compare, FactPath, Test, Words
from checker.rules.reading import nodes
from checker.rules.reading.operands import Typed, find_fact, is_list_kind, may_be_absent, read_operand, read_words
from checker.rules.reading.scope import Scope
from checker.rules.reading.value_kinds import SPAN, ValueKind, kind_of_fact
from checker.rules.vocabulary import Around, FactFound
from checker.rules.wording import choice_of, listing
from checker.values.positions import Position

_NO_OLDER = "no_older_than"
_COUNT = ValueKind(ValueType.COUNT.value)


def read_comparison(entry: Entry, around: Around, scope: Scope) -> Compare | None:
    """One comparison; None where its fact does not exist. What is wrong is told."""
    found = find_fact(entry.key, entry.at, around, scope)
    return None if found is None else _Comparison(entry, found, around, scope).read()


def read_count_tests(node: MappingNode, around: Around, scope: Scope) -> tuple[Test, ...]:
    """The relations of a count."""
    tests = []
    for each in node.entries:
        if each.key not in ("of", "where"):
            operands = [read_operand(item, around, scope) for item in _sides(each)]
            known = [typed for typed in operands if typed is not None]
            for typed in known:
                _check_kind(each, "The count", _COUNT, typed.kind, scope)
                for name in typed.may_be_absent:
                    scope.problems.add(
                        f"The count is held against `{name}`, which may be absent.", each.at, "Take another."
                    )
            if len(known) == len(operands):
                tests.append(Test(each.key, tuple(typed.operand for typed in known)))
    return tuple(tests)


def _sides(entry: Entry) -> tuple[Node, ...]:
    return nodes.items(entry.value) if entry.key == BETWEEN else (entry.value,)


def _check_kind(entry: Entry, name: str, wanted: ValueKind, found: ValueKind | None, scope: Scope) -> None:
    if found is None or wanted.compares_with(found):
        return
    scope.problems.add(
        f"{name} is {wanted.label} and cannot be held against {found.label}.",
        entry.at,
        "Compare things of one kind.",
    )


_OF_A_TOWN = " One of a town's own is declared in its layer, and asked for in that layer or one above it."

_WHERE_NONE = (
    "Write `if_absent: no` where none does not meet it, `if_absent: yes` where none meets it, or `present: yes` in "
    "place of the comparison where it is enough that there is one. What nobody has told is asked for in any case."
)


class _Comparison:
    """One comparison under way."""

    def __init__(self, entry: Entry, found: FactFound, around: Around, scope: Scope) -> None:
        self._name = entry.key
        self._at = entry.at
        self._node = nodes.mapping(entry.value)
        self._found = found
        self._fact: Fact = found.fact
        self._around = around
        self._scope = scope
        self._absent: list[str] = []

    def read(self) -> Compare:
        tests = [test for each in self._node.entries if (test := self._test(each)) is not None]
        if_absent = nodes.flag(self._node.get("if_absent"))
        self._check_relations()
        self._check_absence(if_absent)
        path = FactPath(self._found.links, self._fact.name, self._at)
        return Compare(path, tuple(tests), if_absent)

    def _tell(self, sentence: str, at: Position, remedy: str = "", near: str | None = None) -> None:
        self._scope.problems.add(sentence, at, remedy, near)

    def _test(self, entry: Entry) -> Test | None:
        if entry.key == "if_absent":
            return None
        if entry.key in EXISTENCE:
            return Test(entry.key, (Words((nodes.flag(entry.value) or False,), is_list=False),))
        if entry.key not in relations_of(self._fact):
            self._refuse_relation(entry)
            return None
        if entry.key == BETWEEN:
            sides = [self._number(entry, item) for item in nodes.items(entry.value)]
            known = [each for each in sides if each is not None]
            return Test(entry.key, tuple(each.operand for each in known)) if len(known) == len(sides) else None
        return self._single(entry)

    def _refuse_relation(self, entry: Entry) -> None:
        fact = self._fact
        allowed = relations_of(fact)
        if not allowed:
            parts = [f"{self._name}.{part}" for part in fact.parts]
            near = f"{self._name}.{fact.short_for}" if fact.short_for else None
            self._tell(
                f"`{self._name}` has parts and cannot be compared as a whole.",
                entry.at,
                f"Compare {choice_of(parts)}.",
                near,
            )
            return
        label = kind_of_fact(fact).label
        near = self._scope.problems.near(entry.key, allowed)
        self._tell(
            f"`{entry.key}` does not fit `{self._name}`, which is {label}.",
            entry.at,
            f"Write {choice_of((*allowed, *EXISTENCE))}.",
            near,
        )

    def _single(self, entry: Entry) -> Test | None:
        if isinstance(entry.value, MappingNode):
            typed = read_operand(entry.value, self._around, self._scope)
            if typed is None:
                return None
            self._absent.extend(typed.may_be_absent)
            self._check_operand(entry, typed)
            return Test(entry.key, (typed.operand,))
        if self._fact.type in (ValueType.CHOICE, ValueType.FLAG):
            return self._words(entry)
        typed = read_operand(entry.value, self._around, self._scope)
        return None if typed is None else Test(entry.key, (typed.operand,))

    def _number(self, entry: Entry, item: Node) -> Typed | None:
        typed = read_operand(item, self._around, self._scope)
        if typed is not None:
            self._absent.extend(typed.may_be_absent)
            self._check_operand(entry, typed)
        return typed

    # --- words ------------------------------------------------------------------------------------------------------

    def _words(self, entry: Entry) -> Test | None:
        words = read_words(entry.value)
        wants_list = entry.key in LIST_RELATIONS
        if wants_list != words.is_list:
            remedy = (
                "Write a list in [ ]." if wants_list else f"Write one choice, or use {self._list_relation(entry.key)}."
            )
            self._tell(f"`{entry.key}` takes {'a list of choices' if wants_list else 'one choice'}.", entry.at, remedy)
            return None
        right = [self._is_word(item) for item in nodes.items(entry.value)]
        return Test(entry.key, (words,)) if all(right) else None

    def _list_relation(self, relation: str) -> str:
        return {"is": "one_of", "is_not": "none_of"}.get(relation, "includes_any")

    def _is_word(self, node: Node) -> bool:
        scalar = nodes.scalar(node)
        if self._fact.type is ValueType.FLAG:
            return self._is_flag(scalar)
        word = scalar.text.strip()
        if word in self._fact.choices and not nodes.is_flag(scalar):
            return True
        if word == "none":
            self._tell(f"none is no choice of `{self._name}`.", scalar.at, "Write `present: no` for what is not there.")
            return False
        by_title = {title: name for name, title in self._fact.choices.items()}
        near = self._scope.problems.near(word, (*self._fact.choices, *by_title))
        own = self._fact.own_choices and is_own_choice(word)
        self._tell(
            f"`{word}` is no choice of `{self._name}`.",
            scalar.at,
            f"Choices are {choice_of(self._fact.choices)}.{_OF_A_TOWN if own else ''}",
            by_title.get(near, near) if near else None,
        )
        return False

    def _is_flag(self, scalar: Scalar) -> bool:
        if nodes.is_flag(scalar):
            return True
        self._tell(
            f"`{self._name}` is yes or no, not `{scalar.text.strip()}`.", scalar.at, "Write yes or no, without quotes."
        )
        return False

    # --- operands ---------------------------------------------------------------------------------------------------

    def _check_operand(self, entry: Entry, typed: Typed) -> None:
        kind = typed.kind
        if kind is None:
            return
        if entry.key == _NO_OLDER:
            _check_kind(entry, f"How old `{self._name}` may be", ValueKind(SPAN), kind, self._scope)
        elif self._fact.type is ValueType.CHOICE:
            self._check_choices(entry, kind)
        else:
            _check_kind(entry, f"`{self._name}`", kind_of_fact(self._fact), kind, self._scope)

    def _check_choices(self, entry: Entry, kind: ValueKind) -> None:
        wants_list = entry.key in LIST_RELATIONS
        if is_list_kind(kind) != wants_list or not (is_list_kind(kind) or kind.type == ValueType.CHOICE.value):
            wanted = "several choices" if wants_list else "one choice"
            self._tell(f"`{entry.key}` takes {wanted}, not {kind.label}.", entry.at)
            return
        if not isinstance(entry.value, MappingNode):
            return
        given_by_us = entry.value.get("fact") is None
        unknown = sorted(kind.words - self._fact.choices.keys())
        if given_by_us and unknown:
            near = self._scope.problems.near(unknown[0], self._fact.choices)
            self._tell(
                f"`{unknown[0]}` is no choice of `{self._name}`.",
                entry.at,
                f"Choices are {choice_of(self._fact.choices)}.",
                near,
            )
        elif kind.words and not kind.words & self._fact.choices.keys():
            self._tell(f"`{self._name}` and what it is held against have no choice in common.", entry.at)

    # --- absence ----------------------------------------------------------------------------------------------------

    def _check_relations(self) -> None:
        keys = [each.key for each in self._node.entries if each.key != "if_absent"]
        if not keys:
            self._tell(
                f"`{self._name}` is not compared with anything.",
                self._at,
                "Write a relation: is, at_least, present ...",
            )
        elif len(keys) > 1 and nodes.flag(self._node.get("present")) is False:
            self._tell(
                f"`{self._name}` cannot be absent and hold a relation too.", self._at, "Write `present: no` alone."
            )

    def _check_absence(self, if_absent: bool | None) -> None:
        compared = any(each.key not in (*EXISTENCE, "if_absent") for each in self._node.entries)
        absent = list(dict.fromkeys(self._absent))
        if may_be_absent(self._found, self._scope) and self._node.get("present") is None:
            absent.insert(0, self._name)
        if compared and absent and if_absent is None:
            names = listing([f"`{name}`" for name in absent])
            self._tell(
                f"A site may have no {names}, and the comparison does not say what holds then.",
                self._at,
                _WHERE_NONE,
            )
        elif if_absent is not None and not absent and compared:
            at = nodes.place(self._node, "if_absent")
            sentence = f"Nothing that `{self._name}` is compared with can be absent here."
            self._scope.notes.add(sentence, at, "Leave `if_absent` out: it is no answer for what is not told.")

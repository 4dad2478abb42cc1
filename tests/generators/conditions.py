"""Random conditions of rules: comparisons, groups, negations, folds and counts, as deep as rules may go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from checker.catalog.model import ValueType
from checker.rules.grammar import COUNT_RELATIONS, FOLDS, GROUPS, LIST_RELATIONS, MOST_GROUPS, relations_of
from checker.rules.model.conditions import Compare, Condition, Count, Fold, Group, Not, Test, Words
from checker.rules.vocabulary import Around
from checker.values.possible import number
from tests.generators.choosing import Chooser
from tests.generators.names import NamedFact, Names
from tests.generators.operands import COUNT, NumberBook, OperandWriter, Side

_OFTEN = frozenset({
    "agree", "automatic_start", "bond", "bond_status", "classes", "electrode_conductor_ahead", "first_after_meter",
    "kind", "neutral", "neutral_bond", "neutral_poles", "occupancy", "operation", "other_sources", "overcurrent_limit",
    "past_service_disconnect", "place", "protecting_device", "rated_current", "role", "separately_derived",
    "service_marking", "status", "work", "capacity", "greatest_current", "available_fault_current",
})  # fmt: skip
"""Facts on which much hangs in real rules."""


@dataclass(frozen=True, slots=True)
class ConditionWriter:
    """Writes conditions of one rule."""

    choose: Chooser
    names: Names
    operands: OperandWriter

    @staticmethod
    def of(choose: Chooser, names: Names, book: NumberBook) -> ConditionWriter:
        """A writer whose numbers go into the book."""
        return ConditionWriter(choose, names, OperandWriter(choose, names, book))

    def condition(self, around: Around, depth: int = 0) -> Condition:
        """Any condition that can stand there, inside so many others."""
        ways: list[Callable[[Around, int], Condition]] = [self.comparison, self.comparison]
        if depth < MOST_GROUPS:
            ways += [self.comparison, self._group, self._group, self._not]
            ways += [self._fold, self._fold, self._count] if self.names.collections(around) else []
        return self.choose.one(ways)(around, depth + 1)

    def _part(self) -> str | None:
        return "named" if self.choose.chance(8) else None

    def _group(self, around: Around, depth: int) -> Group:
        size = self.choose.whole(1, 3)
        conditions = tuple(self.condition(around, depth) for _ in range(size))
        return Group(self.choose.one(GROUPS), conditions, self._part())

    def _not(self, around: Around, depth: int) -> Not:
        return Not(self.condition(around, depth), self._part())

    # --- collections -------------------------------------------------------------------------------------------------

    def _fold(self, around: Around, depth: int) -> Fold:
        named = self.choose.one(self.names.collections(around))
        inside = around.inside(named.members)
        how = self.choose.one(FOLDS)
        where = self.condition(inside, depth) if self.choose.chance(50) else None
        that = self.condition(inside, depth) if how == "every" or self.choose.chance(70) else None
        if_empty = self.choose.chance(50) if how == "every" or self.choose.chance(15) else None
        return Fold(how, named.path, where, that, if_empty, self._part())

    def _count(self, around: Around, depth: int) -> Count:
        named = self.choose.one(self.names.collections(around))
        where = self.condition(around.inside(named.members), depth) if self.choose.chance(60) else None
        relation = self.choose.one(COUNT_RELATIONS)
        sides = [self._how_many(around) for _ in range(2 if relation == "between" else 1)]
        return Count(named.path, where, (Test(relation, tuple(side.operand for side in sides)),), self._part())

    def _how_many(self, around: Around) -> Side:
        if self.choose.chance(25):
            return self.operands.ordered(COUNT, around)
        count = self.choose.whole(0, 2)
        return Side(self.operands.book.parameter(str(count), number(count)))

    # --- comparisons -------------------------------------------------------------------------------------------------

    def comparison(self, around: Around, _depth: int = 0) -> Compare:
        """Any comparison of a fact that can be named there."""
        named = self._named(around)
        if not relations_of(named.fact) or self.choose.chance(8):
            return self._existence(named)
        relations = self.choose.some(relations_of(named.fact), least=1, most=2 if self.choose.chance(10) else 1)
        written = [self._test(named, relation, around) for relation in relations]
        absent = named.may_be_absent or any(may_be_absent for _, may_be_absent in written)
        tests = [test for test, _ in written]
        if named.may_be_absent and self.choose.chance(8):
            tests.append(Test("present", (Words((True,), is_list=False),)))
        if_absent = self.choose.one([None, False, True]) if absent else None
        return Compare(named.path, tuple(tests), if_absent, self._part())

    def _named(self, around: Around) -> NamedFact:
        linked = self.names.facts(around, linked=True)
        direct = self.names.facts(around, linked=False)
        named = linked if linked and (not direct or self.choose.chance(35)) else direct
        often = [each for each in named if each.fact.name.partition(".")[0] in _OFTEN]
        return self.choose.one(often if often and self.choose.chance(45) else named)

    def _existence(self, named: NamedFact) -> Compare:
        flag = self.choose.chance(60)
        if self.choose.chance(25):
            return Compare(named.path, (Test("known", (Words((True,), is_list=False),)),), None, self._part())
        return Compare(named.path, (Test("present", (Words((flag,), is_list=False),)),), None, self._part())

    def _test(self, named: NamedFact, relation: str, around: Around) -> tuple[Test, bool]:
        """One relation of a fact, and whether what stands on its other side may be absent."""
        sides = self._sides(named, relation, around)
        return Test(relation, tuple(side.operand for side in sides)), any(side.may_be_absent for side in sides)

    def _sides(self, named: NamedFact, relation: str, around: Around) -> list[Side]:
        fact, kind = named.fact, named.kind
        if relation == "no_older_than":
            return [self.operands.span()]
        if relation == "between":
            return [self.operands.ordered(kind, around), self.operands.ordered(kind, around)]
        if fact.several or fact.type in (ValueType.CHOICE, ValueType.FLAG):
            return [self.operands.words(kind, around, wants_list=relation in LIST_RELATIONS)]
        if fact.type in (ValueType.TEXT, ValueType.TAG, ValueType.WAY):
            return [self.operands.same(kind, around)]
        return [self.operands.ordered(kind, around)]

"""Any facts whatever for a rule, drawn so that they lie near what the rule and its cases speak of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random

from checker.catalog.model import Fact, ValueType
from checker.rules.cases.model import Case, Given, GivenList, GivenValue
from checker.rules.model.conditions import Words
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.vocabulary import Around, CollectionFound, FactFound, Vocabulary
from checker.rules.walk import operands_in, parameters_read, tables_read
from checker.tasks.testing.case_evidence import CaseEvidence
from checker.values.dates import CalendarSpan
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, exactly, number, several

NEAR = (Fraction(1), Fraction(199, 200), Fraction(201, 200))
"""Each number that is spoken of, and one on either side of it."""

MOST_OF_A_KIND = 30
MOST_MEMBERS = 3
_WORDS = ("A", "B")
_NOWHERE = Position("drawn", 1, 1)
_KEPT_COMPLETE, _LEFT_OUT, _ABSENT, _UNDECIDED = 0.85, 0.12, 0.15, 0.06


@dataclass(frozen=True, slots=True)
class _Spoken:
    """Numbers by kind of quantity or type, and words, of which a rule, its numbers and its cases speak."""

    numbers: Mapping[str, list[Fraction]]
    words: frozenset[str]


def _kind(fact: Fact) -> str:
    return fact.quantity or fact.type.value


@dataclass(slots=True)
class Draw:
    """Draws evidence for one rule; the same seed, the same evidence."""

    rule: Rule
    pack: Pack
    cases: tuple[Case, ...]
    vocabulary: Vocabulary
    random: Random
    _spoken: _Spoken = field(init=False)

    def __post_init__(self) -> None:
        self._spoken = _Spoken(self._numbers(), frozenset(self._words()))

    def evidence(self) -> CaseEvidence:
        """One set of facts for the subject of the rule and the members of its collections."""
        types = self.vocabulary.types_of(self.rule.subject)
        return CaseEvidence(self.vocabulary, types, self._given(names_read(self.rule), Around(types)))

    # --- what is spoken of -------------------------------------------------------------------------------------------

    def _numbers(self) -> dict[str, list[Fraction]]:
        found: dict[str, set[Fraction]] = {}
        for name in parameters_read(self.rule):
            parameter = self.pack.parameters[name]
            for written in parameter.values.values():
                if (
                    not isinstance(written.value, CalendarSpan)
                    and written.value is not None
                    and written.value.number is not None
                ):
                    found.setdefault(parameter.type, set()).add(written.value.number)
        for name in tables_read(self.rule):
            self._numbers_of_table(name, found)
        for case in self.cases:
            self._numbers_given(case.given, Around(self.vocabulary.types_of(self.rule.subject)), found)
        return {kind: self._near(kind, numbers) for kind, numbers in found.items()}

    def _numbers_of_table(self, name: str, found: dict[str, set[Fraction]]) -> None:
        table = self.pack.tables[name]
        kinds = {key.name: key.type for key in table.keys}
        for values in table.values.values():
            rows = self.random.sample(values.rows, min(len(values.rows), MOST_OF_A_KIND // NEAR_COUNT))
            for row in rows:
                ends = [(table.gives, row.value), *((kinds[key], value) for key, value in row.keys.items())]
                for kind, value in ends:
                    found.setdefault(kind, set()).update(_ends(value))

    def _numbers_given(self, given: Given, around: Around, found: dict[str, set[Fraction]]) -> None:
        for name, value in given.values.items():
            fact = self.vocabulary.fact(name, around)
            if isinstance(fact, FactFound):
                found.setdefault(_kind(fact.fact), set()).update(_ends(value.value))
        for name, members in given.lists.items():
            collection = self.vocabulary.collection(name, around)
            assert isinstance(collection, CollectionFound)
            for member in members.members:
                self._numbers_given(member, around.inside(collection.collection.members), found)

    def _near(self, kind: str, numbers: set[Fraction]) -> list[Fraction]:
        if kind in (ValueType.COUNT.value, ValueType.DATE.value):
            near = {value + step for value in numbers for step in (-1, 0, 1) if value + step >= 0}
        elif kind == ValueType.WIRE_SIZE.value:
            near = set(numbers)
        else:
            near = {value * factor for value in numbers for factor in NEAR}
        listed = sorted(near)
        return sorted(self.random.sample(listed, min(len(listed), MOST_OF_A_KIND * 2)))

    def _words(self) -> Iterator[str]:
        for operand in operands_in(self.rule):
            if isinstance(operand, Words):
                yield from (str(word) for word in operand.words)
        for case in self.cases:
            yield from _words_given(case.given)
        for name in parameters_read(self.rule):
            for written in self.pack.parameters[name].values.values():
                if isinstance(written.value, Possible):
                    yield from (word for members in written.value.sets for word in members.perhaps)

    # --- drawing -----------------------------------------------------------------------------------------------------

    def _given(self, names: NamesRead, around: Around) -> Given:
        values: dict[str, GivenValue] = {}
        # Kinds come first: they say which other facts can be there.
        for name in sorted(names.facts, key=lambda each: not _is_kind(each)):
            value = self._fact(name, around, values)
            if value is not None:
                values[name] = GivenValue(value, "", _NOWHERE)
        lists = {name: self._list(name, inner, around) for name, inner in names.lists.items()}
        return Given(values, lists)

    def _fact(self, name: str, around: Around, given: dict[str, GivenValue]) -> Possible | None:
        found = self.vocabulary.fact(name, around)
        assert isinstance(found, FactFound), name
        fact = found.fact
        if fact.exact:
            return self._exact(fact)
        if self._whole_is_absent(name, found, given):
            return ABSENT
        if self.random.random() < _LEFT_OUT:
            return None
        if (fact.may_be_none or self._may_lack(found, given)) and self.random.random() < _ABSENT:
            return ABSENT
        value = self._exact(fact)
        return value.union(self._exact(fact)) if self.random.random() < _UNDECIDED else value

    def _may_lack(self, found: FactFound, given: dict[str, GivenValue]) -> bool:
        """Whether what the links lead to may be of a kind that does not have the fact."""
        kind = given.get(".".join((*found.links, "kind")))
        if not found.partial or kind is None:
            return found.partial
        return kind.value.absent or not all(str(atom) in found.fact.subjects for atom in kind.value.atoms)

    def _whole_is_absent(self, name: str, found: FactFound, given: dict[str, GivenValue]) -> bool:
        """A part goes with its whole; where the rule does not read the whole, its first part decides for the others."""
        whole = ".".join((*found.links, found.fact.name.partition(".")[0]))
        if whole == name:
            return False
        if whole not in given:
            absent = self.vocabulary.catalog.may_be_absent(found.fact) and self.random.random() < _ABSENT
            given[whole] = GivenValue(ABSENT if absent else exactly(True), "", _NOWHERE)
        return given[whole].value.only_absent

    def _list(self, name: str, names: NamesRead, around: Around) -> GivenList:
        found = self.vocabulary.collection(name, around)
        assert isinstance(found, CollectionFound)
        inner = around.inside(found.collection.members)
        count = self.random.randint(0, MOST_MEMBERS)
        members = tuple(self._given(names, inner) for _ in range(count))
        return GivenList(members, self.random.random() < _KEPT_COMPLETE, _NOWHERE)

    def _exact(self, fact: Fact) -> Possible:
        if fact.several:
            return several(self._choice(fact) for _ in range(self.random.randint(0, 3)))
        if fact.type.is_ordered:
            pool = self._spoken.numbers.get(_kind(fact)) or [Fraction(1), Fraction(2)]
            return number(self.random.choice(pool))
        if fact.type is ValueType.STRUCTURE:
            return exactly(True)
        if fact.type is ValueType.FLAG:
            return exactly(self.random.random() < 0.5)
        return exactly(self._choice(fact) if fact.choices else self.random.choice(_WORDS))

    def _choice(self, fact: Fact) -> str:
        spoken = [word for word in fact.choices if word in self._spoken.words]
        return self.random.choice(spoken if spoken and self.random.random() < 0.8 else list(fact.choices))


NEAR_COUNT = len(NEAR)


def _is_kind(name: str) -> bool:
    return name.rpartition(".")[2] == "kind"


def _ends(value: Possible) -> Iterable[Fraction]:
    for span in value.spans:
        yield from (end for end in (span.low, span.high) if end is not None)


def _words_given(given: Given) -> Iterator[str]:
    for value in given.values.values():
        yield from (str(atom) for atom in value.value.atoms)
        yield from (word for members in value.value.sets for word in members.perhaps)
    for members in given.lists.values():
        for member in members.members:
            yield from _words_given(member)

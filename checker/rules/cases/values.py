"""The facts of a case: their names are those that the rule reads, their values are written as in a site file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from checker.catalog.model import Fact
from checker.catalog.reading.stated import Stated
from checker.catalog.reading.structures import StructureReader
from checker.catalog.reading.values import read_plain
from checker.catalog.reading.written import Written
from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Sequence as SequenceNode
from checker.rules.cases.model import Given, GivenList, GivenValue
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.names_read import NamesRead
from checker.rules.reading.operands import may_be_absent_in
from checker.rules.vocabulary import Around, CollectionFound, FactFound, Vocabulary
from checker.rules.wording import choice_of
from checker.values.problems import Unreadable

_COMPLETE, _LIST = "complete", "list"
_WORDS = (_COMPLETE, _LIST)


class GivenReader:
    """Reads what the cases of one rule give."""

    def __init__(self, rule: str, vocabulary: Vocabulary, problems: ProblemList) -> None:
        self._rule = rule
        self._vocabulary = vocabulary
        self._problems = problems
        self._structures = StructureReader(self._parts)

    def read(self, entries: Sequence[Entry], names: NamesRead, around: Around) -> Given:
        """The facts and collections of one subject or member. Tells names that the rule does not read."""
        values: dict[str, GivenValue] = {}
        lists: dict[str, GivenList] = {}
        for entry in entries:
            if entry.key in names.lists:
                found = self._list(entry, names.lists[entry.key], around)
                if found is not None:
                    lists[entry.key] = found
            elif entry.key in names.facts or _is_whole_of(entry.key, names.facts):
                values.update(self._values(entry, around))
            else:
                self._refuse_name(entry, names)
        return Given(values, lists)

    def _refuse_name(self, entry: Entry, names: NamesRead) -> None:
        known = [*names.facts, *names.lists]
        self._problems.add(
            f"`{self._rule}` does not read `{entry.key}`.",
            entry.at,
            f"It reads {choice_of(known)}." if known else "It reads nothing here.",
            self._problems.near(entry.key, known),
        )

    def _values(self, entry: Entry, around: Around) -> Iterator[tuple[str, GivenValue]]:
        """The fact of a name, with its parts where it gives them."""
        found = self._vocabulary.fact(entry.key, around)
        if not isinstance(found, FactFound):
            return
        prefix = entry.key.removesuffix(found.fact.name)
        written = Written(found.fact, entry.value, none_allowed=may_be_absent_in(found, self._vocabulary))
        try:
            stated = self._stated(written)
        except Unreadable as error:
            self._problems.extend(error.problems)
            return
        for name, each in stated.items():
            yield f"{prefix}{name}", GivenValue(each.value, each.text, each.at)

    def _stated(self, written: Written) -> Mapping[str, Stated]:
        if written.fact.parts:
            return self._structures.read(written).facts
        return {written.fact.name: read_plain(written)}

    def _parts(self, whole: Fact, parts: Sequence[Entry], per: str | None, none_allowed: bool) -> dict[str, Stated]:
        """The parts of a structure that is written out."""
        found = {}
        for entry in parts:
            fact = self._vocabulary.catalog.facts.get(f"{whole.name}.{entry.key}")
            if fact is None:
                near = self._problems.near(entry.key, whole.parts)
                self._problems.add(
                    f"{whole.name} has no part {entry.key}.", entry.at, f"Write {choice_of(whole.parts)}.", near
                )
            else:
                found[fact.name] = read_plain(Written(fact, entry.value, per, none_allowed))
        return found

    # --- collections ------------------------------------------------------------------------------------------------

    def _list(self, entry: Entry, names: NamesRead, around: Around) -> GivenList | None:
        found = self._vocabulary.collection(entry.key, around)
        if not isinstance(found, CollectionFound):
            return None
        node = entry.value
        remedy = f"Write {entry.key}: {{complete: yes, list: [...]}}."
        if not isinstance(node, MappingNode):
            self._problems.add(f"`{entry.key}` is a collection.", entry.at, remedy)
            return None
        for each in node.entries:
            if each.key not in _WORDS:
                near = self._problems.near(each.key, _WORDS)
                self._problems.add(f"`{each.key}` is no word of a collection.", each.at, remedy, near)
        if any(each.key not in _WORDS for each in node.entries):
            return None
        members = around.inside(found.collection.members)
        listed = tuple(self._member(item, names, members) for item in _items(node.get(_LIST)))
        return GivenList(listed, self._is_complete(node), entry.at)

    def _is_complete(self, node: MappingNode) -> bool:
        written = node.get(_COMPLETE)
        if written is None:
            return False
        if not nodes.is_flag(written):
            self._problems.add("`complete` is yes or no.", written.at, "Write `complete: yes`, or leave it out.")
            return False
        return nodes.flag(written) is True

    def _member(self, item: Node, names: NamesRead, members: Around) -> Given:
        if not isinstance(item, MappingNode):
            self._problems.add("A member of a collection is given by its facts.", item.at, "Write {FACT: value, ...}.")
            return Given()
        return self.read(item.entries, names, members)


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.items if isinstance(node, SequenceNode) else ()


def _is_whole_of(name: str, facts: Mapping[str, None]) -> bool:
    """Whether the rule reads a part of this structure."""
    return any(fact.startswith(f"{name}.") for fact in facts)

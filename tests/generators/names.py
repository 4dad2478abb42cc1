"""Every name of a fact or a collection that a rule can write, by where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from checker.catalog.model import Catalog, Collection, Fact
from checker.rules.model.conditions import FactPath
from checker.rules.reading.value_kinds import ValueKind, kind_of_fact
from checker.rules.vocabulary import Around, FactFound, Types, Vocabulary


@dataclass(frozen=True, slots=True)
class NamedFact:
    """A fact as it can be named: ``may_be_absent`` where it can be none, or the name leads to kinds without it."""

    path: FactPath
    fact: Fact
    kind: ValueKind
    may_be_absent: bool


@dataclass(frozen=True, slots=True)
class NamedCollection:
    """A collection as it can be named, and the types of its members."""

    path: FactPath
    members: Types


class Names:
    """The names of one catalog."""

    def __init__(self, catalog: Catalog) -> None:
        self.catalog = catalog
        self.vocabulary = Vocabulary(catalog)
        self._order = {name: place for place, name in enumerate(sorted(catalog.subject_types))}
        self._facts: dict[Around, Mapping[bool, tuple[NamedFact, ...]]] = {}
        self._collections: dict[Around, tuple[NamedCollection, ...]] = {}

    def facts(self, around: Around, *, linked: bool) -> tuple[NamedFact, ...]:
        """Facts named directly, or along a link."""
        found = self._facts.get(around)
        if found is None:
            named = list(self._named_facts(around))
            found = {far: tuple(each for each in named if bool(each.path.links) is far) for far in (False, True)}
            self._facts[around] = found
        return found[linked]

    def alike(self, kind: ValueKind, around: Around) -> tuple[NamedFact, ...]:
        """The facts that can be held against one of this kind."""
        everywhere = (*self.facts(around, linked=False), *self.facts(around, linked=True))
        return tuple(each for each in everywhere if _comparable(kind, each.kind))

    def collections(self, around: Around) -> tuple[NamedCollection, ...]:
        """Every collection that can be named there."""
        found = self._collections.get(around)
        if found is None:
            found = self._collections[around] = tuple(self._named_collections(around))
        return found

    def _named_facts(self, around: Around) -> Iterator[NamedFact]:
        back = around.back or ()
        for name in (
            *self.vocabulary.fact_names(around.types),
            *(f"subject.{each}" for each in self.vocabulary.facts(back)),
        ):
            found = self.vocabulary.fact(name, around)
            if isinstance(found, FactFound):
                absent = found.partial or self.catalog.may_be_absent(found.fact)
                yield NamedFact(FactPath(found.links, found.fact.name), found.fact, kind_of_fact(found.fact), absent)

    def _named_collections(self, around: Around) -> Iterator[NamedCollection]:
        for name, collection in self.vocabulary.collection_names(around.types):
            links = tuple(name.split(".")[:-1])
            yield NamedCollection(FactPath(links, collection.name), self._members(collection))
        for name in self.vocabulary.collections(around.back or ()):
            yield NamedCollection(FactPath(("subject",), name), self._members(self.catalog.collections[name]))

    def _members(self, collection: Collection) -> Types:
        return tuple(sorted(collection.members, key=lambda each: self._order[each]))


@cache
def _comparable(one: ValueKind, other: ValueKind) -> bool:
    """Whether the two hold the same kind of thing, with words in common where they hold words."""
    return one.compares_with(other) and (not one.words or not other.words or bool(one.words & other.words))

"""The facts that a case gives: what is given is pinned, nothing is derived, what is not given is unknown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from checker.catalog.model import Catalog
from checker.facts.collections import Collection, Member
from checker.facts.known import Ask, Known, Leaf, Origin
from checker.review.paths import Place
from checker.rules.model import FactPath
from checker.rules.vocabulary import Around, CollectionFound, FactFound, Types, Vocabulary
from checker.site.model import Subject
from checker.values.possible import ABSENT, Possible
from checker.values.truth import Truth

SUBJECT = Subject("case", "X1")
"""The subject of every case; a sentence shows it under this tag."""

_BACK = "subject"


@dataclass(frozen=True, slots=True)
class GivenList:
    """A collection that a case gives: the facts of each member, and whether there may be more."""

    complete: bool
    members: tuple[Mapping[str, Possible], ...]


@dataclass(frozen=True, slots=True)
class CaseEvidence:
    """Evidence made of names and values, with no drawing behind it. ``types`` are those that the subject of the rule
    stands for; ``values`` and ``lists`` are keyed by names as the rule writes them.
    """

    vocabulary: Vocabulary
    types: Types
    values: Mapping[str, Possible]
    lists: Mapping[str, GivenList]
    pins: Mapping[Leaf, Possible] = field(default_factory=dict)

    @property
    def catalog(self) -> Catalog:
        return self.vocabulary.catalog

    def pinned(self, pins: Mapping[Leaf, Possible]) -> CaseEvidence:
        return replace(self, pins={**self.pins, **pins})

    def fact(self, place: Place, path: FactPath) -> tuple[Subject | None, Known]:
        at, links = self._at(place, path.links)
        return at, self.known(at, ".".join((*links, path.name)))

    def members(self, place: Place, path: FactPath) -> Collection:
        at, links = self._at(place, path.links)
        name = ".".join((*links, path.name))
        given = self.lists.get(name, GivenList(False, ()))
        subjects = (Subject(name, f"{name} {place}") for place in range(1, len(given.members) + 1))
        more = None if given.complete else Leaf(SUBJECT, name, Ask.MORE)
        return Collection(tuple(Member(subject, Truth.YES) for subject in subjects), more)

    @staticmethod
    def _at(place: Place, links: tuple[str, ...]) -> tuple[Subject, tuple[str, ...]]:
        """Where a name is read: at the member, or, reached back, at the subject of the case."""
        return (place.root, links[1:]) if links[:1] == (_BACK,) else (place.here, links)

    def known(self, subject: Subject, name: str) -> Known:
        leaf = Leaf(subject, name)
        given = self.pins.get(leaf, self._given(subject).get(name))
        if given is not None:
            return Known(given, Origin.STATED, frozenset({leaf}))
        return self._not_given(subject, name, leaf)

    def _given(self, subject: Subject) -> Mapping[str, Possible]:
        if subject == SUBJECT:
            return self.values
        return self.lists[subject.type].members[int(subject.id.rpartition(" ")[2]) - 1]

    def _not_given(self, subject: Subject, name: str, leaf: Leaf) -> Known:
        """Anything of the type of the fact; a part of something that is given as none is none too."""
        found = self.vocabulary.fact(name, self._around(subject))
        if not isinstance(found, FactFound):
            raise LookupError(found.sentence)
        whole = ".".join((*found.links, found.fact.name.partition(".")[0]))
        value = found.fact.anything()
        if whole != name:
            base = self.known(subject, whole)
            if base.value.only_absent:
                return Known(ABSENT, Origin.STATED, base.leaves)
            if base.value.absent:
                value = value.union(ABSENT)
        if found.partial:
            value = value.union(ABSENT)
        return Known(value, Origin.NOT_SHOWN, frozenset({leaf}), unit=found.fact.unit)

    def _around(self, subject: Subject) -> Around:
        if subject == SUBJECT:
            return Around(self.types)
        found = self.vocabulary.collection(subject.type, Around(self.types))
        assert isinstance(found, CollectionFound)
        members = tuple(kind for kind in self.catalog.subject_types if kind in found.collection.members)
        return Around(members, self.types)

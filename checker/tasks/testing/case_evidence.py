"""The facts that a case gives: what is given is pinned, nothing is derived, what is not given is unknown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from checker.catalog.model import Catalog
from checker.facts.collections import Collection, Member
from checker.facts.known import Ask, Known, Leaf, Origin
from checker.findings.judging.paths import Place
from checker.rules.cases.model import Given
from checker.rules.model.conditions import FactPath
from checker.rules.vocabulary import Around, CollectionFound, FactFound, Types, Vocabulary
from checker.site.model import Subject
from checker.values.possible import ABSENT, Possible
from checker.values.truth import Truth

SUBJECT = Subject("case", "X1")
"""The subject of every case; a sentence shows it under this tag."""

MEMBER = "case member"
"""Type of a member of a given collection. Its id leads to it from the subject: ``next_boards 1/surge_devices 2``."""

_BACK = "subject"


@dataclass(frozen=True, slots=True)
class CaseEvidence:
    """Evidence made of names and values, with no drawing behind it. ``types`` are those that the subject of the rule
    stands for; names are written as in the rule.
    """

    vocabulary: Vocabulary
    types: Types
    given: Given
    pins: Mapping[Leaf, Possible] = field(default_factory=dict)

    @property
    def catalog(self) -> Catalog:
        """The fact catalog."""
        return self.vocabulary.catalog

    def pinned(self, pins: Mapping[Leaf, Possible]) -> CaseEvidence:
        """See Evidence."""
        return replace(self, pins={**self.pins, **pins})

    def fact(self, place: Place, path: FactPath) -> tuple[Subject | None, Known]:
        """See Evidence."""
        at, links = _at(place, path.links)
        return at, self.known(at, ".".join((*links, path.name)))

    def members(self, place: Place, path: FactPath) -> Collection:
        """See Evidence."""
        at, links = _at(place, path.links)
        name = ".".join((*links, path.name))
        given = self._seen(at).given.lists.get(name)
        count = 0 if given is None else len(given.members)
        start = "" if at == SUBJECT else f"{at.id}/"
        subjects = (Subject(MEMBER, f"{start}{name} {place}") for place in range(1, count + 1))
        more = None if given is not None and given.complete else Leaf(at, name, Ask.MORE)
        return Collection(tuple(Member(subject, Truth.YES) for subject in subjects), more)

    def known(self, subject: Subject, name: str) -> Known:
        """See Evidence."""
        leaf, seen = Leaf(subject, name), self._seen(subject)
        if leaf in self.pins:
            return Known(self.pins[leaf], Origin.STATED, frozenset({leaf}))
        found = self.vocabulary.fact(name, seen.around)
        if not isinstance(found, FactFound):
            raise LookupError(found.sentence)
        written = seen.given.values.get(name)
        if written is not None:
            return Known(written.value, Origin.STATED, frozenset({leaf}), unit=found.fact.unit, text=written.text)
        return self._not_given(subject, name, found, leaf)

    def _not_given(self, subject: Subject, name: str, found: FactFound, leaf: Leaf) -> Known:
        """Anything of the type of the fact; a part of something that is given as none is none too."""
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

    def _seen(self, subject: Subject) -> _Seen:
        """What is given at the subject of the case, or at a member of its collections."""
        seen = _Seen(self.given, Around(self.types))
        for step in subject.id.split("/") if subject.type == MEMBER else ():
            name, _, number = step.rpartition(" ")
            seen = self._inside(seen, name, int(number) - 1)
        return seen

    def _inside(self, seen: _Seen, name: str, index: int) -> _Seen:
        found = self.vocabulary.collection(name, seen.around)
        if not isinstance(found, CollectionFound):
            raise LookupError(found.sentence)
        return _Seen(seen.given.lists[name].members[index], seen.around.inside(found.collection.members))


@dataclass(frozen=True, slots=True)
class _Seen:
    """The facts given at one place, and from where names are read there."""

    given: Given
    around: Around


def _at(place: Place, links: tuple[str, ...]) -> tuple[Subject, tuple[str, ...]]:
    """Where a name is read: at the member, or, reached back, at the subject of the case."""
    return (place.root, links[1:]) if links[:1] == (_BACK,) else (place.here, links)

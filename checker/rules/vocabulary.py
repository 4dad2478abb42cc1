"""The names that a rule can use: its subject, and from there facts and collections, directly or along links."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checker.catalog.model import Catalog, Collection, Fact
from checker.rules.wording import listing

Types = tuple[str, ...]
"""The types of subject that one word of a rule stands for, in the order of the catalog."""

REACHING_BACK = "subject"
"""Inside where and that, the first part of a name that means the subject of the rule."""

MOST_LISTED = 12
"""So many facts are listed where one is misspelt; of more the nearest has to do."""

MOST_DOTS = 2
_SIDE = "side"
_NEVER_SUBJECTS = frozenset({"way", _SIDE})
_PAIR_ENDS = ("a", "b")


@dataclass(frozen=True, slots=True)
class FactFound:
    """The fact behind a name. ``partial``: some of the types that the name can lead to do not have it."""

    links: tuple[str, ...]
    fact: Fact
    partial: bool


@dataclass(frozen=True, slots=True)
class CollectionFound:
    """The collection behind a name."""

    links: tuple[str, ...]
    collection: Collection


@dataclass(frozen=True, slots=True)
class NotFound:
    """Why a name leads to nothing; ``wrong`` is its part that is not known, ``instead`` the names that could stand
    there.
    """

    sentence: str
    remedy: str = ""
    wrong: str = ""
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Around:
    """From where a name is read: the types of the thing itself, and inside where and that those of the rule's
    subject.
    """

    types: Types
    back: Types | None = None

    def inside(self, members: Types) -> Around:
        """From a member of a collection."""
        return Around(members, self.types if self.back is None else self.back)


class Vocabulary:
    """Answers what names mean, from the fact catalog."""

    def __init__(self, catalog: Catalog) -> None:
        self.catalog = catalog
        self._order = {name: place for place, name in enumerate(catalog.kinds)}
        self._links: dict[Types, tuple[str, ...]] = {}
        self._facts: dict[tuple[Types, Types | None, str], FactFound | NotFound] = {}
        self.subjects = tuple(self._all_subjects())

    def _all_subjects(self) -> Iterator[str]:
        catalog = self.catalog
        yield from ("site", "connection")
        yield from (*catalog.kinds, *catalog.groups, *catalog.roles, *catalog.role_groups, *catalog.pairs)
        yield from dict.fromkeys(each.member for each in catalog.lists.values())
        known = {
            "site",
            "connection",
            *catalog.kinds,
            *catalog.pairs,
            *(each.member for each in catalog.lists.values()),
        }
        yield from sorted(catalog.subject_types - known - _NEVER_SUBJECTS)

    def types_of(self, subject: str) -> Types:
        """The types of subject that the subject of a rule stands for; KeyError for a word that is no subject."""
        catalog = self.catalog
        if subject in catalog.roles or subject in catalog.role_groups:
            return self._in_order(catalog.facts["role"].subjects)
        kinds = catalog.kinds_of(subject)
        if kinds:
            return kinds
        if subject not in self.subjects:
            raise KeyError(subject)
        return (subject,)

    def title(self, types: Types) -> str:
        """One type, or several, in words."""
        titles = [self.catalog.titles[each] for each in types]
        return " or ".join(titles) if len(titles) < 4 else f"{', '.join(titles[:3])} ..."

    def fact(self, name: str, around: Around) -> FactFound | NotFound:
        """The fact that a name means there."""
        key = (around.types, around.back, name)
        found = self._facts.get(key)
        if found is None:
            found = self._facts[key] = self._look_up(name, around)
        return found

    def _look_up(self, name: str, around: Around) -> FactFound | NotFound:
        walked = self._walk(name, around)
        if isinstance(walked, NotFound):
            return walked
        links, rest, types, partial = walked
        fact = self.catalog.facts.get(rest)
        having = () if fact is None else tuple(each for each in types if each in fact.subjects)
        if fact is None or not having:
            return self._no_fact(rest, types, fact)
        return FactFound(links, fact, partial or not _covers(having, types))

    def collection(self, name: str, around: Around) -> CollectionFound | NotFound:
        """The collection that a name means there."""
        walked = self._walk(name, around)
        if isinstance(walked, NotFound):
            return walked
        links, rest, types, _ = walked
        for each in types:
            collection = self.catalog.collection(rest, each)
            if collection is not None:
                return CollectionFound(links, collection)
        sentence = f"There is no collection `{rest}` of {self.title(types)}."
        return NotFound(sentence, "Name a collection of the fact catalog.", rest, self.collections(types))

    def _walk(self, name: str, around: Around) -> tuple[tuple[str, ...], str, Types, bool] | NotFound:
        """Follow the links of a name: the links, what is left, the types reached, whether some types have no such
        link.
        """
        steps = name.split(".")
        if len(steps) > MOST_DOTS + 1:
            return NotFound(
                f"`{name}` goes too far: a name has at most two dots.", "Add a derived fact to the catalog."
            )
        types, links, partial = around.types, [], False
        if steps[0] == REACHING_BACK and len(steps) > 1:
            if around.back is None:
                return NotFound(
                    f"`{name}` reaches back to the subject from where it already stands.",
                    f"Write {name.partition('.')[2]}; `subject.` belongs inside where and that.",
                )
            types = around.back
            links.append(steps.pop(0))
        while len(steps) > 1 and steps[0] in self.links(types):
            reached = self.linked(steps[0], types)
            partial = partial or any(not self.catalog.linked(steps[0], each) for each in types)
            links.append(steps.pop(0))
            types = reached
        return tuple(links), ".".join(steps), types, partial

    def _no_fact(self, rest: str, types: Types, elsewhere: Fact | None) -> NotFound:
        title = self.title(types)
        first, _, tail = rest.partition(".")
        if tail and first not in self.catalog.facts:
            return NotFound(
                f"`{first}.` leads nowhere from {title}.", "", first, (*self.links(types), *self._wholes(types))
            )
        remedy = ""
        if elsewhere is not None:
            owners = self._in_order(elsewhere.subjects)
            remedy = f"It is a fact of {self.title(owners).replace(' ...', ' and others')}."
        instead = tuple(self.facts(types))
        if len(instead) <= MOST_LISTED:
            remedy = f"{remedy} Its facts are {listing(instead)}.".strip()
        remedy = remedy or "All facts, and of what each is, stand in the reference of facts."
        return NotFound(f"There is no fact `{rest}` of {title}.", remedy, rest, instead)

    def _wholes(self, types: Types) -> Iterator[str]:
        return (name for name in self.facts(types) if self.catalog.facts[name].parts)

    def links(self, types: Types) -> tuple[str, ...]:
        """The links that lead on from at least one of these types."""
        found = self._links.get(types)
        if found is None:
            names = (*self.catalog.links, *_PAIR_ENDS)
            found = tuple(name for name in names if any(self.catalog.linked(name, each) for each in types))
            self._links[types] = found
        return found

    def linked(self, link: str, types: Types) -> Types:
        """The types to which a link leads from these."""
        return tuple(dict.fromkeys(to for each in types for to in self.catalog.linked(link, each)))

    def facts(self, types: Types) -> Iterator[str]:
        """The names of the facts that at least one of these types has, parts included."""
        return (fact.name for fact in self.catalog.facts.values() if not fact.subjects.isdisjoint(types))

    def collections(self, types: Types) -> tuple[str, ...]:
        """The names of the collections that at least one of these types has."""
        return tuple(each.name for each in self.catalog.collections.values() if not each.of.isdisjoint(types))

    def fact_names(self, types: Types) -> Iterator[str]:
        """Every name of a fact that can be written for these types, directly or along one link."""
        yield from self.facts(types)
        for link in self.links(types):
            yield from (f"{link}.{name}" for name in self.facts(self.linked(link, types)))

    def collection_names(self, types: Types) -> Iterator[tuple[str, Collection]]:
        """Every name of a collection that can be written for these types, directly or along one link."""
        yield from ((name, self.catalog.collections[name]) for name in self.collections(types))
        for link in self.links(types):
            for name in self.collections(self.linked(link, types)):
                yield f"{link}.{name}", self.catalog.collections[name]

    def link_pairs(self, types: Types) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Every link with the links that lead on from where it leads."""
        for link in self.links(types):
            further = self.links(self.linked(link, types))
            if further:
                yield link, further

    def _in_order(self, types: Iterable[str]) -> Types:
        return tuple(sorted(types, key=lambda each: (self._order.get(each, len(self._order)), each)))


def _covers(having: Types, types: Types) -> bool:
    """Whether the fact is there wherever the name leads: a side of a switch answers for whatever feeds it."""
    return _SIDE in having or len(having) == len(tuple(each for each in types if each != _SIDE))

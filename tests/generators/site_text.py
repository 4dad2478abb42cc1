"""A drawing as the text of a site file, in the order of the drawing or in any other."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence

from checker.catalog.model import Catalog, Fact
from checker.site.model import SITE, Members, Site, Stated, Subject
from tests.generators.structures import LINES

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9_.-]*|[0-9]+ [A-Za-z]+").fullmatch
_WORDS_OF_YAML = frozenset({"yes", "no", "true", "false", "on", "off", "null", "y", "n"})

Shuffle = Callable[[Sequence[str]], list[str]]
"""Puts the sections of a file, its pieces, runs, pairs or the members of a list into an order."""


def to_yaml(site: Site, catalog: Catalog, shuffle: Shuffle = list, members: Shuffle = list) -> str:
    """The site as text; reading it gives the same stated values.

    ``shuffle`` orders sections, pieces, runs, pairs and the feeds of a board, ``members`` the members of lists.
    """
    return _Scribe(site, catalog, shuffle, members).text()


class _Scribe:
    """Writes one site."""

    def __init__(self, site: Site, catalog: Catalog, shuffle: Shuffle, members: Shuffle) -> None:
        self._site = site
        self._catalog = catalog
        self._shuffle = shuffle
        self._shuffle_members = members

    def text(self) -> str:
        pieces = {tag: self._piece(piece) for tag, piece in self._site.pieces.items()}
        sections = [
            f"site: {self._site_section()}",
            *self._permit(),
            f"equipment: {_mapping(pieces, self._shuffle)}",
            f"runs: {_mapping(self._runs(), self._shuffle)}",
            f"pairs: {_mapping(self._pairs(), self._shuffle)}",
            *(
                f"{name}: {self._list(members)}"
                for (name, owner), members in self._site.lists.items()
                if owner == "site"
            ),
        ]
        return "\n".join(self._shuffle(sections)) + "\n"

    def _site_section(self) -> str:
        facts = {name: stated for name, stated in self._facts_of(SITE).items() if name.partition(".")[0] != "permit"}
        closed = self._shuffle([_scalar(kind) for kind in sorted(self._site.complete_kinds)])
        return _mapping({**self._written(facts), "complete": f"[{', '.join(closed)}]"})

    def _permit(self) -> Iterable[str]:
        facts = {name: stated for name, stated in self._facts_of(SITE).items() if name.partition(".")[0] == "permit"}
        return (f"permit: {text}" for text in self._written(facts).values())

    def _piece(self, piece: Subject) -> str:
        feeds = {
            _scalar(feed.input): _scalar(feed.source if feed.way is None else f"{feed.source}/{feed.way}")
            for feed in self._site.feeds
            if feed.to == piece.id
        }
        by_ways = feeds.keys() - set(self._catalog.kinds[piece.type].feeding.inputs)
        entries = self._written(self._facts_of(piece))
        entries |= {"fed_from": _mapping(feeds, self._shuffle)} if by_ways else feeds
        ways = self._ways(piece.id)
        lists = {name: self._list(members) for (name, owner), members in self._site.lists.items() if owner == piece.id}
        return _mapping(entries | ({"ways": _mapping(ways)} if ways else {}) | lists)

    def _ways(self, tag: str) -> dict[str, str]:
        """The ways of a piece; a way of which nothing is said needs no line unless another one has one."""
        found = {
            thing.subject.id.partition("/")[2]: thing.facts
            for thing in self._site.things.values()
            if thing.subject.type == "way" and thing.subject.id.partition("/")[0] == tag
        }
        return {way: _mapping(self._written(facts)) for way, facts in found.items()} if any(found.values()) else {}

    def _runs(self) -> dict[str, str]:
        connections = [feed.subject for feed in self._site.feeds]
        return {
            _scalar(each.id): _mapping(self._written(self._facts_of(each)))
            for each in connections
            if self._facts_of(each)
        }

    def _pairs(self) -> dict[str, str]:
        return {
            _scalar(thing.subject.id): _mapping(self._written(thing.facts))
            for thing in self._site.things.values()
            if thing.subject.type in self._catalog.pairs
        }

    def _list(self, members: Members) -> str:
        items = self._shuffle_members([_mapping(self._written(self._facts_of(each))) for each in members.members])
        return _mapping({"complete": "yes" if members.complete else "no", "list": f"[{', '.join(items)}]"})

    def _facts_of(self, subject: Subject) -> Mapping[str, Stated]:
        thing = self._site.things.get(subject)
        return {} if thing is None else thing.facts

    def _written(self, facts: Mapping[str, Stated]) -> dict[str, str]:
        """The facts of one subject by name, those with parts put together."""
        names = dict.fromkeys(name.partition(".")[0] for name in facts)
        return {name: self._fact(self._catalog.facts[name], facts) for name in names}

    def _fact(self, fact: Fact, facts: Mapping[str, Stated]) -> str:
        whole = facts.get(fact.name)
        parts = {part: facts[f"{fact.name}.{part}"] for part in fact.parts if f"{fact.name}.{part}" in facts}
        if whole is not None and (not parts or _says_all(fact, whole, parts)):
            return _value(fact, whole)
        entries = {part: _value(self._catalog.facts[f"{fact.name}.{part}"], stated) for part, stated in parts.items()}
        if whole is not None and fact.quantity is not None:
            entries["value"] = _value(fact, whole)
        return _mapping(entries)


def _mapping(entries: Mapping[str, str], shuffle: Shuffle = list) -> str:
    return "{" + ", ".join(shuffle([f"{key}: {text}" for key, text in entries.items()])) + "}"


def _says_all(fact: Fact, whole: Stated, parts: Mapping[str, Stated]) -> bool:
    """Whether the text of the whole gives every part that is stated."""
    if whole.value.only_absent:
        return True
    if fact.short_for is not None and list(parts) == [fact.short_for]:
        return whole.text == parts[fact.short_for].text
    return any(line in whole.text for line in LINES.get(fact.reads or "", ()))


def _value(fact: Fact, stated: Stated) -> str:
    """One value; a set of choices in brackets."""
    sets = stated.value.sets
    if fact.several and len(sets) == 1 and sets[0].is_point and not stated.value.absent:
        return f"[{', '.join(_scalar(word) for word in sorted(sets[0].surely))}]"
    return _scalar(stated.text)


def _scalar(text: str) -> str:
    """A text as YAML takes it, in quotes where they are needed."""
    if text in ("yes", "no") or (_PLAIN(text) and text.casefold() not in _WORDS_OF_YAML):
        return text
    return json.dumps(text, ensure_ascii=False)

"""Reads the fact catalog from ``schemas/facts/*.yaml``."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from checker.catalog.model import (
    Bounds,
    Catalog,
    Collection,
    Fact,
    Feeding,
    Kind,
    Link,
    Listing,
    Pair,
    Stage,
    ValueType,
)
from checker.files.cache import digest, user_cache
from checker.files.compiling import Compiler, Source
from checker.files.folders import data_folder
from checker.files.frozen_json import FrozenCodec
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import plain
from checker.values.kinds import KINDS
from checker.values.problems import Problem, Unreadable
from checker.values.quantities import NotationError, read_quantity

_Entry = Mapping[str, Any]

_ROOMS = ("values", "files", "catalog")

BEFORE_ANY_KIND = frozenset({"site", "way", "side", "connection", "figure"})
"""Types of subject that are no kind of equipment, no pair and no member of a list."""


@cache
def shipped_catalog() -> Catalog:
    """The catalog that comes with the program, from the cache where it was read before."""
    folder = data_folder("schemas") / "facts"
    compiler = Compiler(user_cache(), catalog_codec(), _ROOMS)
    return compiler.value(Catalog, str(folder), lambda: Source(_files(folder)), lambda: load_catalog(folder))


def catalog_codec() -> FrozenCodec:
    """Writes and reads catalogs, and nothing else."""
    return FrozenCodec((Catalog, Kind, Feeding, Pair, Listing, Link, Collection, Fact, ValueType, Stage, Bounds))


def load_catalog(folder: Path) -> Catalog:
    """Read every file of the folder into one catalog; raises Unreadable with what is wrong in it."""
    files = [(name, read_bytes(path, name)) for path, name in _files(folder)]
    sections: dict[str, dict[str, Any]] = {}
    for name, text in files:
        content: Any = plain(read_text(text, name))
        for section, entries in content.items():
            _merge(sections.setdefault(section, {}), entries, f"{name}: {section}")
    return replace(_Reader(sections).catalog(), digest=digest(*(part for file in files for part in file)))


def _files(folder: Path) -> tuple[tuple[Path, str], ...]:
    return tuple((path, path.name) for path in sorted(folder.glob("*.yaml")))


def _merge(into: dict[str, Any], entries: Mapping[str, Any], where: str) -> None:
    for name, entry in entries.items():
        if name in into:
            raise Unreadable([Problem(f"The catalog names {name} twice ({where}).", remedy="Keep one of the two.")])
        into[name] = entry


class _Reader:
    """Turns the plain sections of the catalog into its model."""

    def __init__(self, sections: Mapping[str, Mapping[str, Any]]) -> None:
        self._sections = sections
        self._kinds = {name: _kind(name, entry) for name, entry in sections["kinds"].items()}
        self._groups = {name: tuple(entry["kinds"]) for name, entry in sections["groups"].items()}
        self._groups["equipment"] = tuple(self._kinds)
        self._pairs = {
            name: Pair(name, entry["title"], entry["a"], entry["b"], entry["members"])
            for name, entry in sections["pairs"].items()
        }
        self._lists = {
            name: Listing(
                name,
                entry["member"],
                entry["title"],
                entry["means"],
                entry["on"],
                found_on=entry["found_on"],
                never_empty=entry.get("never_empty", False),
                known_by=entry.get("known_by", ""),
            )
            for name, entry in sections["lists"].items()
        }
        self._structures = sections["structures"]

    def catalog(self) -> Catalog:
        facts: dict[str, Fact] = {}
        for name, entry in self._sections["facts"].items():
            for fact in self._facts(name, entry):
                facts[fact.name] = fact
        roles = {name: entry["title"] for name, entry in self._sections["roles"].items()}
        role_groups = {name: tuple(entry["roles"]) for name, entry in self._sections["role_groups"].items()}
        titles = dict(self._titles(roles))
        return Catalog(
            self._kinds,
            self._groups,
            roles,
            role_groups,
            self._pairs,
            self._lists,
            facts,
            titles,
            {name: self._link(name, entry) for name, entry in self._sections["links"].items()},
            {name: self._collection(name, entry) for name, entry in self._sections["collections"].items()},
        )

    def _link(self, name: str, entry: _Entry) -> Link:
        return Link(name, entry["title"], frozenset(self._all(name, entry["of"])), tuple(self._all(name, entry["to"])))

    def _collection(self, name: str, entry: _Entry) -> Collection:
        of, members = self._all(name, entry["of"]), self._all(name, entry["member"])
        return Collection(name, entry["title"], frozenset(of), tuple(members))

    def _all(self, name: str, subjects: Iterable[str]) -> dict[str, None]:
        """The types of subject that these names stand for, each once, in their order."""
        return dict.fromkeys(each for subject in subjects for each in self._expanded(name, subject))

    def _titles(self, roles: Mapping[str, str]) -> Iterator[tuple[str, str]]:
        for section in ("groups", "role_groups", "pairs"):
            for name, entry in self._sections[section].items():
                yield name, entry["title"]
        yield from ((kind.name, kind.title) for kind in self._kinds.values())
        yield from roles.items()
        yield from ((each.member, each.member.replace("_", " ")) for each in self._lists.values())
        yield from ((name, name) for name in sorted(BEFORE_ANY_KIND))

    def _facts(self, name: str, entry: _Entry) -> Iterator[Fact]:
        stated, derived = self._subjects(name, entry, "of"), self._subjects(name, entry, "derived_for")
        structure = self._structures.get(entry["type"])
        if structure is None:
            yield self._fact(name, entry, stated, derived)
            return
        parts: Mapping[str, _Entry] = structure["parts"]
        own = {**structure.get("value", {"type": "structure"}), **{k: v for k, v in entry.items() if k != "type"}}
        yield self._fact(
            name,
            {**own, **{key: structure.get(key) for key in ("unnamed_parts", "part_in_use")}},
            stated,
            derived,
            parts=tuple(parts),
            short_for=structure.get("short_for"),
            reads=structure.get("reads"),
        )
        for part, part_entry in parts.items():
            titled = {**part_entry, "title": f"{entry['title']}: {part_entry['title']}"}
            yield self._fact(f"{name}.{part}", titled, stated, derived)

    def _subjects(self, name: str, entry: _Entry, key: str) -> frozenset[str]:
        return frozenset(kind for subject in entry.get(key, ()) for kind in self._expanded(name, subject))

    def _expanded(self, name: str, subject: str) -> tuple[str, ...]:
        members = {each.member for each in self._lists.values()}
        if subject in self._groups:
            return self._groups[subject]
        if subject in self._kinds or subject in self._pairs or subject in members or subject in BEFORE_ANY_KIND:
            return (subject,)
        raise Unreadable([Problem(f"The catalog gives {name} to {subject}, which is no kind, group, pair or list.")])

    def _fact(
        self,
        name: str,
        entry: _Entry,
        stated: frozenset[str],
        derived: frozenset[str],
        parts: tuple[str, ...] = (),
        short_for: str | None = None,
        reads: str | None = None,
    ) -> Fact:
        value_type, quantity = _type_of(name, entry["type"])
        number = _number_reader(name, value_type, quantity)
        tolerance = entry.get("agrees_within")
        return Fact(
            name=name,
            type=value_type,
            title=entry["title"],
            means=entry.get("means", ""),
            stated_for=stated,
            derived_for=derived,
            quantity=quantity,
            unit=entry.get("unit"),
            choices=self._choices(entry),
            several=entry.get("several", False),
            may_be_none=entry.get("none", False),
            exact=entry.get("exact", False),
            physical=_bounds(entry.get("physical"), number),
            plausible=_bounds(entry.get("plausible"), number),
            agrees_within=None if tolerance is None else read_quantity(tolerance, "ratio").number,
            found_on=entry.get("found_on", ""),
            known_at=Stage(entry.get("known_at", Stage.PLAN_REVIEW.value)),
            parts=parts,
            short_for=short_for,
            reads=reads,
            unnamed_parts_absent=entry.get("unnamed_parts") == "none",
            part_in_use=entry.get("part_in_use"),
            said_only=frozenset(entry.get("said_only", ())),
            own_choices=entry.get("own_choices", False),
        )

    def _choices(self, entry: _Entry) -> dict[str, str]:
        if entry["type"] == "kind":
            return {kind.name: kind.title for kind in self._kinds.values()}
        if entry["type"] == "role":
            return {name: role["title"] for name, role in self._sections["roles"].items()}
        return {str(name): str(title) for name, title in entry.get("choices", {}).items()}


def _kind(name: str, entry: _Entry) -> Kind:
    return Kind(
        name,
        entry["title"],
        entry["means"],
        Feeding(entry["fed"]),
        entry["ways"],
        entry["drawing"] == "complete",
        entry["seen_at"],
        entry.get("without_nameplate", ""),
    )


def _type_of(name: str, written: str) -> tuple[ValueType, str | None]:
    if written in ("kind", "role"):
        return ValueType.CHOICE, None
    if written in KINDS:
        return ValueType.QUANTITY, written
    try:
        return ValueType(written), None
    except ValueError:
        raise Unreadable([Problem(f"The catalog gives {name} the type {written}, which does not exist.")]) from None


def _number_reader(name: str, value_type: ValueType, quantity: str | None) -> Callable[[str], Fraction]:
    def read(text: str) -> Fraction:
        if value_type is not ValueType.QUANTITY or quantity is None:
            return Fraction(text)
        try:
            return Fraction(text) if text == "0" else read_quantity(text, quantity).number
        except NotationError as error:
            sentence = f"The catalog cannot read the bound {text} of {name}: {error.sentence}"
            raise Unreadable([Problem(sentence)]) from error

    return read


def _bounds(written: Any, number: Callable[[str], Fraction]) -> Bounds | None:
    if written is None:
        return None
    low, high = (None if str(end) == "none" else number(str(end)) for end in written)
    return Bounds(low, high)

"""Facts that were stated and that no rule and no calculation read."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Catalog
from checker.facts.known import Leaf
from checker.findings.finding import Notice
from checker.site.model import Site, Thing
from checker.values.positions import Position

NOT_READ = "not_read"
"""The kind of notice that names facts that nobody read."""

_IDENTITY = frozenset({"kind", "name", "address", "jurisdiction", "stage", "paper", "at", "of", "to", "manages"})
"""Facts that say which thing it is, or that the program reads before any rule does."""


def unread_facts(site: Site, catalog: Catalog, read: frozenset[Leaf]) -> Iterator[Notice]:
    """One notice for each thing with facts that nobody read, so that nothing that was given is lost in silence."""
    seen = {(leaf.subject, leaf.name) for leaf in read}
    for thing in site.things.values():
        names = [
            name
            for name in _wholes(thing, catalog)
            if not any((thing.subject, part) in seen for part in _parts(name, catalog))
            and not (name == "bond" and (thing.subject, "bond_status") in seen)
        ]
        if names:
            titles = ", ".join(name.replace("_", " ") for name in names)
            yield Notice(NOT_READ, f"{thing.subject}: {titles}.", _place(thing, names[0]))


def _wholes(thing: Thing, catalog: Catalog) -> tuple[str, ...]:
    """The facts of a thing as they were written: a structured fact once; permit dates pick the rules and are left
    out.
    """
    names = dict.fromkeys(name.partition(".")[0] for name in thing.facts if name.partition(".")[0] in catalog.facts)
    return tuple(name for name in names if name not in _IDENTITY and name != "permit")


def _parts(name: str, catalog: Catalog) -> tuple[str, ...]:
    """The fact with its parts, any of which a rule may have read."""
    return (name, *(f"{name}.{part}" for part in catalog.facts[name].parts))


def _place(thing: Thing, name: str) -> Position:
    written = (stated.at for fact, stated in thing.facts.items() if fact.partition(".")[0] == name)
    return next(written, thing.at)

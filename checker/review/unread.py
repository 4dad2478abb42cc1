"""Facts that were stated and that no rule and no calculation read."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Catalog
from checker.facts.known import Leaf
from checker.review.finding import Notice
from checker.site.model import Site, Thing

_IDENTITY = frozenset({"kind", "name", "address", "jurisdiction", "stage", "paper", "at", "of", "to", "manages"})
"""Facts that say which thing it is, or that the program reads before any rule does."""


def unread_facts(site: Site, catalog: Catalog, read: frozenset[Leaf]) -> Iterator[Notice]:
    """One notice for each thing with facts that nobody read, so that nothing that was given is lost in silence."""
    seen = {(leaf.subject, leaf.name) for leaf in read}
    for thing in site.things.values():
        names = [name for name in thing.facts if _counts(thing, name, catalog) and (thing.subject, name) not in seen]
        if names:
            titles = ", ".join(name.replace("_", " ") for name in names)
            yield Notice("not read", f"{thing.subject}: no rule looked at {titles}.", thing.facts[names[0]].at)


def _counts(thing: Thing, name: str, catalog: Catalog) -> bool:
    """The whole of a structured fact counts only through its parts; a permit date picks the rules instead."""
    if name in _IDENTITY or name.startswith("permit"):
        return False
    fact = catalog.facts.get(name)
    return fact is not None and not (fact.parts and not fact.type.is_ordered)

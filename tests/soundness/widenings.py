"""Makes a drawing say less: exact values become alternatives, ranges or unknown, complete lists become open.

Kind, tags and feeding stay, as they are always exact, and with them a status that sets a piece aside. Facts that are
also worked out are left alone: where a stated figure goes, the one that is worked out takes its place, and that may be
narrower.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from checker.catalog.model import Catalog
from checker.site.model import Site, Stated, Subject, Thing
from checker.values.possible import ABSENT, Possible
from tests.generators.choosing import Chooser
from tests.generators.written import exact, undecided
from tests.soundness.exact_facts import is_set_aside


def widened(site: Site, catalog: Catalog, choose: Chooser, most: int = 3) -> Site:
    """The same drawing with a few things less known; the same one where nothing can be."""
    for _ in range(choose.whole(1, most)):
        changes = list(_changes(site, catalog))
        if changes:
            site = choose.one(changes)(choose, site)
    return site


_Widening = Callable[[Chooser, Site], Site]


def _changes(site: Site, catalog: Catalog) -> Iterator[_Widening]:
    """Every place at which something can be less known."""
    for subject, thing in site.things.items():
        for name in thing.facts:
            whole = name.partition(".")[0]
            fact = catalog.facts[whole]
            free = not fact.exact and subject.type not in fact.derived_for
            if free and not (whole == "status" and is_set_aside(site, subject)):
                yield _Fact(catalog, subject, name)
    for key, members in site.lists.items():
        if members.complete:
            yield lambda _, old, key=key, members=members: replace(  # type: ignore[misc]
                old, lists={**old.lists, key: replace(members, complete=False)}
            )
    for kind in sorted(site.complete_kinds):
        yield lambda _, old, kind=kind: replace(old, complete_kinds=old.complete_kinds - {kind})  # type: ignore[misc]


class _Fact:
    """One stated fact, or part of one, that can be less known."""

    def __init__(self, catalog: Catalog, subject: Subject, name: str) -> None:
        self._catalog = catalog
        self._subject = subject
        self._fact = catalog.facts[name]
        self._whole = catalog.facts[name.partition(".")[0]]

    def __call__(self, choose: Chooser, site: Site) -> Site:
        facts = dict(site.things[self._subject].facts)
        is_whole_of_parts = self._fact is self._whole and bool(self._whole.parts)
        if is_whole_of_parts:
            self._widen_whole(choose, facts)
        else:
            facts[self._fact.name] = self._wider(choose, facts, list(site.pieces))
        thing = site.things[self._subject]
        return replace(site, things={**site.things, self._subject: Thing(self._subject, thing.at, facts)})

    def _widen_whole(self, choose: Chooser, facts: dict[str, Stated]) -> None:
        """Leaves out the whole with its parts, or says that it may not be there."""
        names = [name for name in facts if name.partition(".")[0] == self._whole.name]
        if not self._whole.may_be_none or choose.chance(50):
            for name in names:
                del facts[name]
            return
        for name in names:
            facts[name] = _with(facts[name], ABSENT)
        facts[self._whole.name] = _with(facts[self._whole.name], Possible(frozenset({True}), absent=True))
        if facts[self._whole.name].value.absent:
            self._free_parts(facts)

    def _free_parts(self, facts: dict[str, Stated]) -> None:
        """Parts that were known to be absent with the whole are open now that it may be there."""
        for part in self._whole.parts:
            name = f"{self._whole.name}.{part}"
            if name in facts and facts[name].value.only_absent:
                facts[name] = _with(facts[name], self._catalog.facts[name].anything())

    def _wider(self, choose: Chooser, facts: dict[str, Stated], tags: list[str]) -> Stated:
        fact, said = self._fact, facts[self._fact.name]
        way = choose.whole(1, 3)
        if way == 1:
            more: Possible = fact.anything()
        elif way == 2:
            more = exact(choose, fact, tags).value
        else:
            more = undecided(choose, fact, tags).value
        return _with(said, more)


def _with(said: Stated, more: Possible) -> Stated:
    return replace(said, value=said.value.union(more), text="less known")

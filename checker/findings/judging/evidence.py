"""What a judge may look at: the facts of a site, or the facts that a case gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from checker.catalog.model import Catalog
from checker.facts.collections import Collection, collection
from checker.facts.known import Known, Leaf
from checker.facts.view import View
from checker.findings.judging.paths import Place, found, linked
from checker.rules.model.conditions import FactPath
from checker.site.model import Subject
from checker.values.possible import Possible


class Evidence(Protocol):
    """Facts by the paths of a rule, and the same with some leaves pinned."""

    @property
    def catalog(self) -> Catalog:
        """The fact catalog."""
        ...

    def fact(self, place: Place, path: FactPath) -> tuple[Subject | None, Known]:
        """The fact at the end of a path, with the subject that it belongs to."""
        ...

    def members(self, place: Place, path: FactPath) -> Collection:
        """The collection at the end of a path."""
        ...

    def known(self, subject: Subject, name: str) -> Known:
        """One fact of a subject."""
        ...

    def pinned(self, pins: Mapping[Leaf, Possible]) -> Evidence:
        """The same when some leaves have these values."""
        ...


@dataclass(frozen=True, slots=True)
class SiteEvidence:
    """The facts of a site."""

    view: View

    @property
    def catalog(self) -> Catalog:
        """The fact catalog."""
        return self.view.ground.catalog

    def fact(self, place: Place, path: FactPath) -> tuple[Subject | None, Known]:
        """See Evidence."""
        return found(self.view, place, path)

    def members(self, place: Place, path: FactPath) -> Collection:
        """See Evidence."""
        owner = linked(self.view, place, path.links)
        return Collection(()) if owner is None else collection(self.view, path.name, owner)

    def known(self, subject: Subject, name: str) -> Known:
        """See Evidence."""
        return self.view.known(subject, name)

    def pinned(self, pins: Mapping[Leaf, Possible]) -> SiteEvidence:
        """See Evidence."""
        return SiteEvidence(self.view.pinned(pins))

"""Papers that the fact catalog does not know and a place declares for itself."""

from __future__ import annotations

from collections.abc import Iterable

from checker.catalog.model import Catalog
from checker.rules.grammar import PAPER
from checker.rules.layers.model import Layer
from checker.rules.model.profile import OwnPaper


def papers_of(layers: Iterable[Layer]) -> tuple[OwnPaper, ...]:
    """The papers that these layers declare, in their order."""
    return tuple(paper for layer in layers for paper in layer.papers)


def knowing(catalog: Catalog, papers: Iterable[OwnPaper]) -> Catalog:
    """The catalog of a place: as it is, with these papers among those that a site can list."""
    return catalog.with_choices(PAPER, {each.name: each.title for each in papers})

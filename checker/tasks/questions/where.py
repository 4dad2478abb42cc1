"""Where a fact is read: at a stop of the walk round the site, with the tape, or in a paper at the desk."""

from __future__ import annotations

from enum import Enum

from checker.catalog.model import Catalog
from checker.facts.known import Ask, Leaf
from checker.facts.pairs import halves
from checker.site.model import Site, Subject


class Stop(Enum):
    """The stops of the walk, in its order; last what nobody finds on site."""

    METER = "meter"
    SWITCH = "switch"
    PANEL = "panel"
    SET = "set"
    GAS_METER = "gas meter"
    SITE = "the site"
    TAPE = "tape"
    PAPERS = "papers"

    @property
    def order(self) -> int:
        """Place in the walk, from 0."""
        return list(Stop).index(self)


AT_THE_PIECE = frozenset(
    {
        "nameplate",
        "device",
        "site",
        "conductor print",
        "panel",
        "gas gauge",
        "meter badge",
        "plate of the tank",
        "print on the jacket",
    }
)
"""What `found_on` names that a person on site can look at."""

TAPE = "tape"
_IN_PANELS = "panel"
IN_PAPERS = frozenset(
    {
        "utility letter",
        "weather record",
        "conductor schedule",
        "coordination study",
        "data sheet",
        "demand record",
        "design documents",
        "drawing",
        "gas diagram",
        "gas utility letter",
        "generator data sheet",
        "label schedule",
        "load calculation",
        "manual",
        "map",
        "order",
        "owner",
        "packet",
        "permit papers",
        "plate",
        "settings sheet",
        "sound survey",
        "survey",
        "test record",
        "transfer switch data sheet",
        "written procedure",
    }
)
"""What `found_on` names that is looked up, asked for or decided elsewhere."""


def is_on_site(paper: str) -> bool:
    """Whether what a fact is found on can be looked at on site."""
    words = [word.strip() for word in paper.replace(" or ", ",").split(",")]
    return any(word in AT_THE_PIECE or word == TAPE for word in words)


def stop_of(leaf: Leaf, paper: str, site: Site, catalog: Catalog) -> Stop:
    """The stop at which a person reads it."""
    if not is_on_site(paper):
        return Stop.PAPERS
    if paper == TAPE:
        return Stop.TAPE
    if leaf.ask is Ask.FACT or leaf.subject.id in site.pieces:
        return stop_at(leaf.subject, site, catalog)
    return Stop.PANEL if paper == _IN_PANELS else Stop.SITE


def stop_at(subject: Subject, site: Site, catalog: Catalog) -> Stop:
    """The stop at which a subject is looked at."""
    kinds = (site.pieces[tag].type for tag in _tags(subject, site, catalog) if tag in site.pieces)
    seen_at = next((catalog.kinds[kind].seen_at for kind in kinds), Stop.SITE.value)
    return Stop(seen_at)


def _tags(subject: Subject, site: Site, catalog: Catalog) -> tuple[str, ...]:
    """The pieces at which a subject is looked at, the nearest first."""
    if subject.type == "connection":
        feed = next((each for each in site.feeds if each.subject == subject), None)
        return () if feed is None else (feed.to, feed.source)
    if subject.type in catalog.pairs:
        return halves(subject)
    if subject.id in site.pieces:
        return (subject.id,)
    named = [site.stated(subject, name) for name in ("at", "of", "first")]
    tags = tuple(str(each.value.atom).partition("/")[0] for each in named if each is not None)
    return (*tags, subject.id.partition("/")[0], subject.id.partition(" ")[0])

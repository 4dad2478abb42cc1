"""What a view of a drawing works out, and what of it can be pinned."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Fact
from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.site.model import SITE, Site, Subject
from checker.values.possible import Possible
from tests.generators.cases import CATALOG
from tests.generators.choosing import Chooser

MOST_PINS = 8

Pins = dict[Leaf, Possible]


def subjects(view: View) -> Iterator[Subject]:
    """Everything on a drawing of which something is worked out."""
    drawing = view.ground.drawing
    yield SITE
    yield from drawing.pieces.values()
    yield from (feed.subject for feed in drawing.feeds)
    for tag in drawing.of("transfer_switch"):
        yield from (Subject("side", f"{tag}.{entry}") for entry in drawing.inputs(tag))


def worked_out(view: View) -> Iterator[tuple[Subject, Fact]]:
    """Every fact that is worked out on a drawing."""
    for subject in subjects(view):
        for fact in CATALOG.facts_of(subject.type):
            if (fact.name.partition(".")[0], subject.type) in view.ground.registry:
                yield subject, fact


def pins(choose: Chooser, view: View, done: Site) -> Pins:
    """Some of the open facts, as a completion has them: those on which something rests, roles and bonds."""
    known = (view.known(subject, fact.name) for subject, fact in worked_out(view))
    stated = {Leaf(subject, name) for subject, thing in done.things.items() for name in thing.facts}
    rests = {leaf for each in known for leaf in each.leaves if leaf.ask is Ask.FACT} & stated
    roles = {leaf for leaf in stated if leaf.name in ("role", "neutral_bond")}
    leaves = sorted(rests | roles, key=lambda leaf: leaf.order)
    # To write one part of a rated power on a drawing says that there are no others; to pin it does not.
    alone = [leaf for leaf in leaves if not CATALOG.facts[leaf.name.partition(".")[0]].unnamed_parts_absent]
    open_leaves = [leaf for leaf in alone if not view.read(leaf.subject, leaf.name).is_exact]
    return {
        leaf: said.value
        for leaf in choose.some(open_leaves, most=MOST_PINS)
        if (said := done.stated(leaf.subject, leaf.name)) is not None
    }

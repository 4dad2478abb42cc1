"""What stands in the columns of a schedule: pieces and runs, and the facts of each that are told."""

from __future__ import annotations

from collections.abc import Iterator

from checker.catalog.model import Catalog, Fact
from checker.facts.drawing import in_order
from checker.facts.known import Leaf
from checker.site.model import Subject
from checker.tasks.scheduling.bench import Bench
from checker.tasks.scheduling.rows import Section


def subjects_of(bench: Bench, section: Section) -> list[Subject]:
    """The pieces or runs of a section, from source to load."""
    drawing = bench.view.ground.drawing
    found = [
        drawing.pieces[tag]
        for kind in section.kinds
        if kind in bench.view.ground.catalog.kinds
        for tag in drawing.of(kind)
    ]
    if "connection" in section.kinds:
        found += [feed.subject for feed in drawing.feeds]
    return sorted(found, key=lambda each: (drawing.walk_order.get(_tag(bench, each), 0), in_order(each.id)))


def _tag(bench: Bench, subject: Subject) -> str:
    drawing = bench.view.ground.drawing
    return drawing.feed(subject).to if subject.type == "connection" else subject.id


def title_of(catalog: Catalog, subject: Subject) -> str:
    """What a piece is; a run for what joins two."""
    kind = catalog.kinds.get(subject.type)
    return kind.title if kind is not None else "run"


def leaves_of(bench: Bench, section: Section, subject: Subject) -> Iterator[Leaf]:
    """The facts of a section that a piece and its ways can have."""
    for name in section.facts:
        if bench.view.ground.catalog.fact(name, subject.type) is not None:
            yield Leaf(subject, name)
    for way in _ways(bench, subject):
        for name in section.ways:
            whole = name.partition(".")[0]
            if not bench.view.read(way, whole).only_absent:
                yield Leaf(way, name)


def _ways(bench: Bench, subject: Subject) -> Iterator[Subject]:
    """The ways of a piece through which something is fed or by which it is fed."""
    drawing, site = bench.view.ground.drawing, bench.job.site
    feeds = [feed.way for feed in drawing.out_of(subject.id)] if subject.type != "connection" else []
    wanted = {f"{subject.id}/{way}" for way in (*feeds, *drawing.inputs(subject.id), "main") if way is not None}
    yield from (each for each in site.things if each.type == "way" and each.id in wanted)


def row_title(leaf: Leaf, fact: Fact) -> str:
    """A fact as its row is called, with the way whose it is."""
    return f"{fact.title}, {leaf.subject.id}" if leaf.subject.type == "way" else fact.title

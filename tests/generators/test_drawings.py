"""Generated drawings are what they say: site files hold them, and a few hold everything that properties need."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given

from checker.catalog.model import ValueType
from checker.site.model import Site, Stated, Subject
from checker.site.read import read_site
from checker.values.possible import Possible
from tests.generators.cases import CATALOG, Case, cases, seeded_case
from tests.generators.site_text import to_yaml
from tests.generators.walk import Walk
from tests.soundness.budget import examples, seeds

Values = dict[Subject, dict[str, Possible]]


def _read_back(folder: Path, site: Site) -> Site:
    path = folder / "site.yaml"
    path.write_text(to_yaml(site, CATALOG), encoding="utf-8")
    return read_site(path, CATALOG)


def _values(site: Site) -> Values:
    """Everything that is stated, without its texts and places; a subject without facts counts for nothing."""
    return {
        subject: {name: stated.value for name, stated in thing.facts.items()}
        for subject, thing in site.things.items()
        if thing.facts
    }


@examples(60)
@given(cases(most_rules=1))
def test_a_drawing_that_is_written_and_read_states_the_same(
    tmp_path_factory: pytest.TempPathFactory, case: Case
) -> None:
    site = case.site
    back = _read_back(tmp_path_factory.mktemp("site"), site)
    assert _values(back) == _values(site)
    assert back.pieces == site.pieces
    assert back.complete_kinds == site.complete_kinds
    assert [feed.subject for feed in back.feeds] == [feed.subject for feed in site.feeds]
    assert [(feed.source, feed.way) for feed in back.feeds] == [(feed.source, feed.way) for feed in site.feeds]
    assert {notice.sentence for notice in site.notices} <= {notice.sentence for notice in back.notices}
    lists = {key: (listed.members, listed.complete) for key, listed in site.lists.items()}
    assert {key: (listed.members, listed.complete) for key, listed in back.lists.items()} == lists


def _features(site: Site) -> Iterator[str]:
    """What a drawing has that properties look for."""
    walk = Walk(site.feeds, {tag: piece.type for tag, piece in site.pieces.items()}, CATALOG)
    switches = walk.of("transfer_switch")
    yield f"{len(switches)} transfer switches"
    yield f"{len(walk.of('generator'))} sets"
    yield f"{len(walk.of('utility_supply'))} utility supplies"
    yield from (f"kind {piece.type}" for piece in site.pieces.values())
    if any(len(walk.reaching(switch)) > 2 for switch in switches):
        yield "three sources"
    if any(sum(source in walk.reaching(switch) for switch in switches) > 1 for source in walk.of("generator")):
        yield "two switches on one set"
    if max((sum(walk.is_of(above, "board") for above in walk.ahead(tag)) for tag in walk.of("board")), default=0) > 1:
        yield "boards behind boards"
    yield from ("something that nothing feeds" for _ in site.notices)
    yield from _features_of_several_feeds(site, walk)
    yield from (f"{name}, complete: {listed.complete}" for (name, _), listed in site.lists.items())
    yield from (f"all {kind}s drawn" for kind in site.complete_kinds)
    for thing in site.things.values():
        for name, stated in thing.facts.items():
            yield f"{thing.subject.type} {_shape(name, stated)}"


def _features_of_several_feeds(site: Site, walk: Walk) -> Iterator[str]:
    """Boards that can be fed in more than one way, inlets without a cord, and what keeps their devices apart."""
    for inlet in walk.of("inlet"):
        yield "a cord is in" if walk.into(inlet, "fed_from") else "a cord is out"
    fed_by_ways: set[str] = set()
    for board in walk.of("board"):
        inputs, sources = walk.inputs(board), [feed.source for feed in site.feeds if feed.to == board]
        if len(inputs) == 1:
            continue
        fed_by_ways |= {f"{board}/{entry}" for entry in inputs}
        yield f"a board with {len(inputs)} feeds, the first by {'its main' if inputs[0] == 'main' else 'a way'}"
        yield from (f"one of several feeds from a {walk.kinds[source]}" for source in sources)
        if any(walk.into(source, "fed_from") is None for source in sources if walk.is_of(source, "inlet")):
            yield "one of several feeds without a cord"
    for member in site.members("interlocks").members:
        ends = [site.stated(member, end) for end in ("first", "second")]
        if all(end is not None and end.value.atom in fed_by_ways for end in ends):
            yield "an interlock between feeds of boards"


def _shape(name: str, stated: Stated) -> str:
    fact, value = CATALOG.facts[name], stated.value
    if fact.type in (ValueType.TEXT, ValueType.TAG, ValueType.STRUCTURE):
        return name.partition(".")[0]
    if value == fact.anything():
        return f"{name} unknown"
    return f"{name} {'exact' if value.is_exact else 'undecided'}{' or none' if value.absent else ''}"


_WANTED = (
    *(f"{count} transfer switches" for count in (1, 2, 3, 4)), *(f"{count} sets" for count in (1, 2, 3)),
    "1 utility supplies", "2 utility supplies", "three sources", "two switches on one set", "boards behind boards",
    "a cord is in", "a cord is out", "one of several feeds without a cord", "an interlock between feeds of boards",
    *(f"a board with {count} feeds, the first by {first}" for count in (2, 3) for first in ("its main", "a way")),
    *(f"one of several feeds from a {kind}" for kind in (
        "utility_supply", "disconnect", "transfer_switch", "panelboard", "switchboard", "transformer", "generator",
        "inlet",
    )),
    "something that nothing feeds", *(f"kind {kind}" for kind in CATALOG.kinds),
    *(f"{name}, complete: {complete}" for name in CATALOG.lists for complete in (True, False)),
    *(f"all {kind.name}s drawn" for kind in CATALOG.kinds.values() if not kind.drawing_complete),
    "transfer_switch role exact", "transfer_switch role undecided", "transfer_switch role undecided or none",
    "panelboard role exact or none", "transfer_switch neutral undecided", "transfer_switch neutral unknown",
    "transfer_switch operation exact", "transfer_switch operation undecided", "way overcurrent",
    "way overcurrent.rated_current exact", "way overcurrent.rated_current undecided",
    "way overcurrent.rated_current exact or none", "fault_source available_fault_current exact",
    "fault_source available_fault_current undecided", "fault_source available_fault_current unknown",
    "site other_sources unknown", "site other_sources exact or none", "site other_sources exact",
    "utility_supply system", "utility_supply system.phases exact", "generator system.voltage undecided",
    "generator capacity exact", "generator greatest_current exact", "generator neutral_bond exact",
    "connection phase", "connection grounding", "service_disconnect_pair shared_enclosure exact",
)  # fmt: skip


def test_a_few_hundred_drawings_have_everything_that_properties_look_for() -> None:
    found: Counter[str] = Counter()
    for seed in seeds(300):
        found.update(set(_features(seeded_case(seed).site)))
    assert not [feature for feature in _WANTED if not found[feature]]


def test_the_same_number_gives_the_same_drawing_and_another_number_another() -> None:
    assert seeded_case(5) == seeded_case(5)
    assert seeded_case(5) != seeded_case(6)

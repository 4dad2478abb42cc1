"""Whether a run carries the whole load of a one-family dwelling, by the drawing alone (NFPA 70, 310.12)."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import Drawing
from checker.site.model import SITE, Feed, Subject
from checker.values.possible import EITHER_FLAG, exactly

OCCUPANCY, FED, LOADS, AT, KIND = "occupancy", "dwelling_fed_by_feeder", "loads", "at", "load_kind"
FARM = "agricultural_building"
READS = (OCCUPANCY, FED, FARM, AT, KIND)

_ONE_DWELLING, _YES = exactly("one_family_dwelling"), exactly(True)
_OTHER_BUILDING = "other_building"
_BOARDS = ("panelboard", "switchboard")


def carries_the_whole_dwelling(context: Context, subject: Subject, name: str) -> Derived:
    """Yes where all that the utility feeds in a one-family dwelling is fed through this run, no board and no load
    lies ahead of it, and all loads are listed and none is that of another building. Otherwise either: a person may know
    more than the drawing shows, and of a run from a set nobody can tell by the drawing that all of the dwelling is put
    on it. Where the service ends away from the dwelling, or there is a farm building, a run may carry the dwelling and
    more, and a person has to say how it counts.
    """
    if context.read(SITE, OCCUPANCY) != _ONE_DWELLING or any(context.read(SITE, each) == _YES for each in (FED, FARM)):
        return Derived(EITHER_FLAG)
    feed = context.drawing.feed(subject)
    if not _is_the_only_way_in(context.drawing, feed):
        return Derived(EITHER_FLAG)
    listed, above = context.site.members(LOADS), frozenset(_above(context.drawing, feed))
    if not listed.complete or not all(_is_of_the_dwelling_below(context, load, above) for load in listed.members):
        return Derived(EITHER_FLAG)
    return Derived(exactly(True))


def _is_of_the_dwelling_below(context: Context, load: Subject, above: frozenset[str]) -> bool:
    place, kind = context.read(load, AT), context.read(load, KIND)
    return place.atom is not None and place.atom not in above and kind.atom not in (None, _OTHER_BUILDING)


def _is_the_only_way_in(drawing: Drawing, feed: Feed) -> bool:
    """Whether the run lies on the normal line from the one utility supply, with nothing branching off ahead of it and
    a board past it.
    """
    if len(drawing.of("utility_supply")) != 1 or drawing.utility_of(feed.to) is None:
        return False
    if feed.input != drawing.entry(feed.to):
        return False
    above = _above(drawing, feed)
    fed_once = all(len(drawing.out_of(tag)) == 1 and not _is_board(drawing, tag) for tag in above)
    return fed_once and any(_is_board(drawing, tag) for tag in (feed.to, *drawing.below(feed.to)))


def _above(drawing: Drawing, feed: Feed) -> tuple[str, ...]:
    return (feed.source, *drawing.ahead(feed.source))


def _is_board(drawing: Drawing, tag: str) -> bool:
    return any(drawing.is_of(tag, kind) for kind in _BOARDS)

"""Lines from one building to another: which of them feeds the dwelling, and where an old neutral serves as ground."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.line.roles import flag
from checker.site.model import SITE, Feed, Subject
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

SAID, FEEDS = "to_another_building", "feeds_another_building"
FED, WHOLE = "dwelling_fed_by_feeder", "whole_dwelling_load"
PAST, STATUS, METAL = "past_service_disconnect", "run_status", "metal_to_the_other_building"
GROUNDING, RACEWAY, PROTECTION = "grounding", "raceway_grounds", "ground_fault_protection"

READS = (SAID, FED, WHOLE, PAST)
OLD_LINE_READS = ("neutral_may_ground_without_metal", FEEDS, STATUS, GROUNDING, RACEWAY, PROTECTION)
NEUTRAL_READS = ("neutral_may_ground", FEEDS, STATUS, METAL, GROUNDING, RACEWAY, PROTECTION)

_YES, _NO, _EXISTING = exactly(True), exactly(False), exactly("existing")

_Condition = tuple[str, Possible | None]
"""A fact of a line and what it has to be; none where there is no value."""
_AN_OLD_LINE: tuple[_Condition, ...] = ((FEEDS, _YES), (GROUNDING, None), (RACEWAY, _NO), (STATUS, _EXISTING))


def feeds_another_building(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the line ends at another building: where that is said, or where a dwelling is said to be fed by a feeder
    and this is the line past the service disconnect that is meant: the only one that there is, or the one that alone
    carries the whole dwelling.
    """
    if _is_said(context, subject):
        return Derived(flag(Truth.YES))
    is_fed = relate("is", context.read(SITE, FED), _YES)
    if is_fed is Truth.NO or any(_is_said(context, feed.subject) for feed in context.drawing.feeds):
        return Derived(flag(Truth.NO))
    return Derived(flag(all_of((is_fed, _leads_to_the_dwelling(context, context.drawing.feed(subject))))))


def _is_said(context: Context, line: Subject) -> bool:
    return context.read(line, SAID) == _YES


def _leads_to_the_dwelling(context: Context, line: Feed) -> Truth:
    past = {feed: _past_the_service(context, feed) for feed in context.drawing.feeds}
    others = [feed for feed, truth in past.items() if feed != line and truth is not Truth.NO]
    if past[line] is Truth.NO or not others:
        return past[line]
    another = any_of(all_of((past[feed], _carries_the_dwelling(context, feed))) for feed in others)
    return all_of((past[line], _carries_the_dwelling(context, line), ~another))


def _carries_the_dwelling(context: Context, feed: Feed) -> Truth:
    return relate("is", context.read(feed.subject, WHOLE), _YES)


def _past_the_service(context: Context, feed: Feed) -> Truth:
    return relate("is", context.read(feed.subject, PAST), _YES)


def neutral_may_ground(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the neutral of the line, or of the one line into the piece, may serve as the ground at another building
    (NFPA 70, 250.32(B)(1) Exception No. 1): an existing line without a ground of its own, no metal that joins the
    grounding of both buildings, and no ground-fault protection of equipment ahead.
    """
    return _of_the_line(context, subject, name, (*_AN_OLD_LINE, (METAL, _NO)))


def neutral_may_ground_without_metal(context: Context, subject: Subject, name: str) -> Derived:
    """The same whatever metal there is: whether it would be so once no metal joins the two."""
    return _of_the_line(context, subject, name, _AN_OLD_LINE)


def _of_the_line(context: Context, subject: Subject, name: str, conditions: tuple[_Condition, ...]) -> Derived:
    if subject.type == "connection":
        return Derived(flag(_may_ground(context, context.drawing.feed(subject), conditions)))
    feeds = [context.drawing.into(subject.id, entry) for entry in context.drawing.inputs(subject.id)]
    only = feeds[0] if len(feeds) == 1 else None
    return Derived(flag(Truth.NO if only is None else relate("is", context.read(only.subject, name), _YES)))


def _may_ground(context: Context, feed: Feed, conditions: tuple[_Condition, ...]) -> Truth:
    """Stops at the first condition that surely fails, so that nobody is asked for the rest."""
    line, found = feed.subject, Truth.YES
    for fact, wanted in conditions:
        value = context.read(line, fact)
        holds = _is_none(value) if wanted is None else relate("is", value, wanted)
        found = all_of((found, holds))
        if found is Truth.NO:
            return found
    ahead = (feed.source, *context.drawing.ahead(feed.source))
    sensed = [context.drawing.pieces[tag] for tag in ahead if context.drawing.is_of(tag, "can_sense_ground_faults")]
    return all_of((found, *(_is_none(context.read(piece, PROTECTION)) for piece in sensed)))


def _is_none(value: Possible) -> Truth:
    return Truth.YES if value.only_absent else Truth.UNKNOWN if value.absent else Truth.NO

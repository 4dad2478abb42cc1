"""What can be said of a profile and its layers from their dates and targets alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from checker.rules.layers import model
from checker.rules.layers.model import Change, Layer
from checker.rules.layers.stack import Stack
from checker.rules.model.conditions import Condition, Lookup, NextSize, ParameterOperand, Words
from checker.rules.model.profile import Adoption, Profile
from checker.rules.model.rule import Rule
from checker.rules.walk import below, conditions_of, operands_of
from checker.rules.wording import listing
from checker.values.problems import Problem

_ONE_DAY = timedelta(days=1)

_REPEATABLE = (
    model.AddException,
    model.AddWay,
    model.Widen,
    model.Narrow,
    model.Confirm,
    model.Redirect,
    model.AddRule,
)
"""What several changes can do to one rule at the same time."""


# --- adoptions -------------------------------------------------------------------------------------------------------


def adoption_notes(profile: Profile) -> Iterator[Problem]:
    """Adoptions of one document that leave days without an edition, overlap, or go back to an older edition."""
    by_document: dict[tuple[str, str], list[Adoption]] = {}
    for each in profile.documents:
        by_document.setdefault((each.document, each.where_words), []).append(each)
    for (document, _), adoptions in by_document.items():
        ordered = sorted(adoptions, key=lambda each: each.start)
        for one, following in pairwise(ordered):
            yield from _two_adoptions(document, one, following)
        last = ordered[-1]
        if last.until is not None:
            yield Problem(
                f"No edition of {document} is adopted after {last.until}.",
                last.at,
                "Adopt the next one, or leave `until` out.",
            )


def _two_adoptions(document: str, one: Adoption, following: Adoption) -> Iterator[Problem]:
    if one.until is not None and one.until >= following.start:
        yield Problem(
            f"{document} {one.edition} lasts until {one.until} and {following.edition} begins on {following.start}; "
            f"from that day on {following.edition} counts.",
            one.at,
            "Leave `until` out: an edition lasts until the next one begins.",
        )
    if one.until is not None and one.until + _ONE_DAY < following.start:
        yield Problem(
            f"No edition of {document} is adopted from {one.until + _ONE_DAY} to {following.start - _ONE_DAY}.",
            one.at,
            "Leave `until` out, or close the gap.",
        )
    if following.edition < one.edition:
        yield Problem(
            f"{document} goes back from {one.edition} to {following.edition} on {following.start}.",
            following.at,
            "Turn the dates round, if that is not meant.",
        )


# --- dates of changes ------------------------------------------------------------------------------------------------


def date_errors(layer: Layer) -> Iterator[Problem]:
    """Changes of one layer that do the same to the same thing on the same days."""
    for one, other in _pairs_of_one_thing(layer):
        start, until = _common_days(one, other)
        if start is None or until is None or start <= until:
            days = _days(start, until)
            yield Problem(
                f"Changes {one.terms.number} and {other.terms.number} of {layer.id} both {_does(one)}{days}.",
                other.terms.at,
                f"Give the first an `until`, or keep one. The first stands at {one.terms.at}.",
            )


def date_notes(layer: Layer) -> Iterator[Problem]:
    """Changes of one thing with days between them on which none counts."""
    for one, other in _pairs_of_one_thing(layer):
        ends, starts = one.terms.until, other.terms.start
        if ends is not None and starts is not None and ends + _ONE_DAY < starts:
            yield Problem(
                f"Nothing of {layer.id} {_does(one, once=True)} from {ends + _ONE_DAY} to {starts - _ONE_DAY}.",
                other.terms.at,
                "Close the gap, if the rule of the model code is not meant to count in it.",
            )


def _pairs_of_one_thing(layer: Layer) -> Iterator[tuple[Change, Change]]:
    """Changes of one thing that follow one another."""
    for changes in _of_one_thing(layer).values():
        yield from pairwise(sorted(changes, key=lambda each: each.terms.start or date.min))


def _of_one_thing(layer: Layer) -> dict[tuple[str, str], list[Change]]:
    """Changes of one thing, each change once however many rules it hits."""
    found: dict[tuple[str, str], list[Change]] = {}
    for each in layer.changes:
        if isinstance(each.what, _REPEATABLE):
            continue
        changes = found.setdefault(_thing(each), [])
        if all(known.terms.number != each.terms.number for known in changes):
            changes.append(each)
    return found


def _thing(change: Change) -> tuple[str, str]:
    what = change.what
    if isinstance(what, model.SetNumber):
        return "number", f"{what.pack}:{what.parameter}"
    if isinstance(what, model.EndException):
        return "exception", f"{change.rule} {what.id}"
    return change.terms.word, change.rule


def _common_days(one: Change, other: Change) -> tuple[date | None, date | None]:
    starts = [each.terms.start for each in (one, other) if each.terms.start is not None]
    ends = [each.terms.until for each in (one, other) if each.terms.until is not None]
    return max(starts, default=None), min(ends, default=None)


def _days(start: date | None, until: date | None) -> str:
    since = f" from {start}" if start is not None else ""
    return f"{since} to {until}" if until is not None else f"{since} on" if since else ""


def _does(change: Change, *, once: bool = False) -> str:
    what, word = change.what, change.terms.word.replace("_", " ")
    of = f"the {what.title}" if isinstance(what, model.SetNumber) else change.written
    verb = f"{word}s" if once else word
    return f"{verb} {of}"


# --- what nothing reads ----------------------------------------------------------------------------------------------


def unused_numbers(layer: Layer) -> Iterator[Problem]:
    """Parameters and tables of a layer that none of its changes reads."""
    read = {name for condition in _conditions(layer) for name in _numbers_in(condition)}
    for name in (*layer.parameters, *layer.tables):
        if name not in read:
            at = layer.numbers_at.get(name, layer.at)
            yield Problem(f"No change of {layer.id} reads `{name}`.", at, "Take it out, or use it.")


def unused_papers(layer: Layer, others: Iterable[Layer]) -> Iterator[Problem]:
    """Papers that a layer declares and that neither it nor one of the others asks for."""
    named = {word for each in (layer, *others) for condition in _conditions(each) for word in _words_in(condition)}
    for paper in layer.papers:
        if paper.name not in named:
            sentence = f"No change of {layer.id} asks for the paper `{paper.name}`."
            yield Problem(sentence, paper.at, f"Write `ask_for: {{paper: {paper.name}}}`, or take it out.")


def _conditions(layer: Layer) -> Iterator[Condition]:
    for change in layer.changes:
        what = change.what
        if isinstance(what, model.AddRule | model.ReplaceRule):
            yield from conditions_of(what.rule)
        elif isinstance(what, model.AddException):
            yield what.exception.condition
        elif isinstance(what, model.AddWay | model.Widen | model.Narrow):
            yield what.condition


def _numbers_in(condition: Condition) -> Iterator[str]:
    for each in below(condition):
        for operand in operands_of(each):
            if isinstance(operand, ParameterOperand):
                yield operand.name
            elif isinstance(operand, Lookup | NextSize):
                yield operand.table


def _words_in(condition: Condition) -> Iterator[str]:
    for each in below(condition):
        for operand in operands_of(each):
            if isinstance(operand, Words):
                yield from map(str, operand.words)


# --- citations that no longer fit ------------------------------------------------------------------------------------


def stale_citations(stack: Stack, profile: Profile) -> Iterator[Problem]:
    """Changes written against an edition that is no longer the one adopted, with where the rule now stands."""
    amends = stack.layer.amends
    if amends is None or not amends[1]:
        return
    document, written = amends
    later = [each for each in _adoptions_of(profile, document) if each.start > _first_day(profile, document, written)]
    for adoption in (each for each in later if each.edition != written):
        yield from _stale_in(stack, document, written, adoption)


def _adoptions_of(profile: Profile, document: str) -> Sequence[Adoption]:
    return sorted((each for each in profile.documents if each.document == document), key=lambda each: each.start)


def _first_day(profile: Profile, document: str, edition: str) -> date:
    """The first day of the edition; of one that was never adopted, the beginning."""
    days = [each.start for each in _adoptions_of(profile, document) if each.edition == edition]
    return min(days, default=date.min)


def _stale_in(stack: Stack, document: str, written: str, adoption: Adoption) -> Iterator[Problem]:
    seen: set[tuple[int, str]] = set()
    for change in stack.layer.changes:
        pack = stack.pack_of(change.rule)
        key = (change.terms.number, change.rule)
        if pack is None or pack.document != document or key in seen or _is_over(change, adoption):
            continue
        seen.add(key)
        rule = next((each for each in pack.rules if f"{pack.id}:{each.id}" == change.rule), None)
        if rule is not None and written in rule.sections:
            yield from _stale(change, rule, document, written, adoption)


def _is_over(change: Change, adoption: Adoption) -> bool:
    return change.terms.until is not None and change.terms.until < adoption.start


def _stale(change: Change, rule: Rule, document: str, written: str, adoption: Adoption) -> Iterator[Problem]:
    before, now = rule.sections[written], rule.sections.get(adoption.edition)
    told = f"{change.name} was written against {document} {written}; from {adoption.start} {adoption.edition} counts"
    if now is None:
        yield Problem(
            f"{told}, which has no `{rule.id}` ({listing(before)} of {written}).",
            change.terms.at,
            "Give the change an `until`, or read it again.",
        )
    elif now != before:
        yield Problem(
            f"{told}, where `{rule.id}` stands under {listing(now)} and not {listing(before)}.",
            change.terms.at,
            _by_section(change, document, f"{document} {adoption.edition} {now[0]}"),
        )


def _by_section(change: Change, document: str, now: str) -> str:
    """What to do; a change that names its rule by a section names another one."""
    if not change.written.startswith(document):
        return "Read it again, and write it against the new edition."
    return f"Read it again; name the rule by its id, or by {now}."

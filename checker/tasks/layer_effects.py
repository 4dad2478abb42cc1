"""What each change of a layer does, in words: which rules it hits, what was and what is, from when by which event."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.rules.layers import model
from checker.rules.layers.changing import sentence
from checker.rules.layers.model import Change, Terms
from checker.rules.wording import listing
from checker.tasks.layer_rules import LayerRules
from checker.values.positions import Position

_EVENTS = {
    "permit_application": "permit applications",
    "plan_submission": "plans submitted",
    "permit_issue": "permits issued",
    "work_start": "work begun",
    "occupancy": "buildings occupied",
    "engine_built": "engines built",
}


@dataclass(frozen=True, slots=True)
class Effect:
    """One change in one sentence; ``hits`` are the rules that it is about, each with its section and its title."""

    at: Position
    sentence: str
    hits: tuple[str, ...]


def effects(rules: LayerRules, event: str | None) -> Iterator[Effect]:
    """The changes of a layer in its order; ``event`` is that of the profile, None where no profile names the layer."""
    numbers = dict.fromkeys(each.terms.number for each in rules.layer.changes)
    for number in numbers:
        changes = [each for each in rules.layer.changes if each.terms.number == number]
        yield _effect(rules, changes, event)


def _effect(rules: LayerRules, changes: list[Change], event: str | None) -> Effect:
    first = changes[0]
    before = None if isinstance(first.what, model.AddRule) else rules.before(first.rule)
    what = (
        f"a rule of its own: {first.what.rule.title}"
        if isinstance(first.what, model.AddRule)
        else sentence(before, first)
    )
    told = f"Change {first.terms.number}, {when_words(first.terms, event)}: {what}."
    own = isinstance(first.what, model.AddRule | model.Redirect)
    return Effect(first.terms.at, told, () if own else tuple(_hit(rules, each) for each in changes))


def _hit(rules: LayerRules, change: Change) -> str:
    found = rules.before(change.rule)
    if found is None:
        return f"{change.rule}, which the edition that the layer was written against does not have"
    sections = listing([f"{each.document}{_edition(each.edition)} {each.section}" for each in found.cites])
    return f"{change.rule} ({sections}): {found.rule.title}" if sections else f"{change.rule}: {found.rule.title}"


def _edition(edition: str | None) -> str:
    return f" {edition}" if edition else ""


def when_words(terms: Terms, event: str | None) -> str:
    """From when until when a change counts, and by the date of what."""
    days = f" from {terms.start}" if terms.start is not None else ""
    days += f" until {terms.until}" if terms.until is not None else ""
    whose = f"for {_EVENTS[event]}" if event else "by the event of the profile that names the layer"
    return f"{whose}{days}" if days else f"{whose}, always"

"""What a review rests on, so that two can be held against each other: what is described, how it reads, which rules."""

from __future__ import annotations

from collections.abc import Iterator

from checker.facts.view import View
from checker.findings.assembling.naming import known_text
from checker.findings.finding import Described
from checker.rules.model.in_force import RulesInForce


def described(view: View, rules: RulesInForce) -> Described:
    """The names of everything on the drawing and in its lists, each stated fact as it reads, and the rules in force."""
    site = view.ground.site
    moving = {subject.id: name for subject, name in site.names.items()}
    subjects = (*(site.name_of(each) for each in site.things), *(feed.subject.id for feed in view.ground.drawing.feeds))
    in_force = frozenset((each.rule.pack, each.rule.id) for each in rules.rules)
    return Described(moving, frozenset(subjects), dict(_stated(view)), in_force)


def _stated(view: View) -> Iterator[tuple[str, str]]:
    """What is written as unknown says no more than what is left out."""
    site, catalog = view.ground.site, view.ground.catalog
    for thing in site.things.values():
        for name, stated in thing.facts.items():
            fact = catalog.facts.get(name)
            if fact is not None and stated.value != fact.anything():
                yield f"{site.name_of(thing.subject)}.{name}", known_text(fact, view.stated(thing.subject, fact))

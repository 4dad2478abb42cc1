"""The names that a rule reads: facts and collections, as it writes them, and inside each collection those of its
members.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from checker.rules.model.conditions import Condition, Count, FactPath, Fold
from checker.rules.model.rule import Rule
from checker.rules.vocabulary import REACHING_BACK
from checker.rules.walk import conditions_of, conditions_of_texts, facts_compared, inside


@dataclass(slots=True)
class NamesRead:
    """``facts`` and ``lists`` hold names with their links; a list has the names that are read of its members."""

    facts: dict[str, None] = field(default_factory=dict)
    lists: dict[str, NamesRead] = field(default_factory=dict)

    def member_names(self, name: str) -> NamesRead:
        """The names that are read of the members of a collection."""
        return self.lists.setdefault(name, NamesRead())


def names_read(rule: Rule) -> NamesRead:
    """Every name that the conditions of a rule read, of its subject and of members."""
    return names_read_by((rule,))


def names_read_by(rules: Iterable[Rule]) -> NamesRead:
    """Every name that any of several forms of a rule reads."""
    return _names(condition for rule in rules for condition in conditions_of(rule))


def names_of_cases(rules: Iterable[Rule]) -> NamesRead:
    """Every name that a case may give: what the forms of a rule read, and what decides which texts are told."""
    return _names(condition for rule in rules for condition in (*conditions_of(rule), *conditions_of_texts(rule)))


def _names(conditions: Iterable[Condition]) -> NamesRead:
    top = NamesRead()
    for condition in conditions:
        _collect(condition, top, top)
    return top


def _collect(condition: Condition, here: NamesRead, top: NamesRead) -> None:
    for path in facts_compared(condition):
        owner, name = _owner(path, here, top)
        owner.facts[name] = None
    if isinstance(condition, Fold | Count):
        owner, name = _owner(condition.collection, here, top)
        here = owner.member_names(name)
    for each in inside(condition):
        _collect(each, here, top)


def _owner(path: FactPath, here: NamesRead, top: NamesRead) -> tuple[NamesRead, str]:
    """Whose name it is, and how it is written there: what reaches back is a name of the rule's subject."""
    name = str(path)
    return (top, name.removeprefix(f"{REACHING_BACK}.")) if path.links[:1] == (REACHING_BACK,) else (here, name)

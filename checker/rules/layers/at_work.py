"""A layer at work: on its date, by its authority, where it holds; and one change of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from checker.rules.layers import model
from checker.rules.layers.changing import Held
from checker.rules.layers.model import Change, Layer
from checker.rules.layers.scopes import restricted
from checker.rules.model.conditions import Condition, Not
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.profile import May


@dataclass(frozen=True, slots=True)
class AtWork:
    """A layer with what its authority may do, its rank, the date that counts for it, and where it holds.

    ``begins`` is the day from which the profile has it, ``before`` leaves only the changes that began before that day:
    the applicant has elected the rules before it. ``scope`` tells apart where a layer holds. ``event`` is the one whose
    date ``on`` is.
    """

    layer: Layer
    may: May
    rank: int
    on: date
    before: date | None = None
    where: Condition | None = None
    where_words: str = ""
    begins: date | None = None
    scope: str = ""
    event: str | None = None

    @property
    def held(self) -> Held:
        """By which event and where the layer counts, in words."""
        return Held(self.event, self.where_words)

    def changes(self) -> Iterator[Change]:
        """The changes that count."""
        for each in self.layer.changes:
            # A limit is at work outside its dates: there the rule does not count.
            at_work = each.terms.holds_on(self.on) is not isinstance(each.what, model.LimitRule)
            if at_work and self._was_before(each):
                yield each

    def _was_before(self, change: Change) -> bool:
        began = start_of(change, self.begins)
        return self.before is None or began is None or began < self.before


Made = tuple[AtWork, Change]
"""A change with the layer that makes it."""


def start_of(change: Change, begins: date | None) -> date | None:
    """The day on which a change began: its own or, if that is later, that of its layer in the profile."""
    given = [each for each in (change.terms.start, begins) if each is not None]
    return max(given, default=None)


def named(at_work: AtWork, change: Change) -> str:
    """A change with whose it is."""
    return f"{change.name} ({at_work.layer.authority})"


def told(change: Change) -> str:
    """A change with what it does to which target."""
    return f"{change.name} ({change.terms.word.replace('_', ' ')} {change.written})"


def outside(at_work: AtWork, by: AtWork) -> AtWork:
    """The layer, only where the other one does not hold."""
    assert by.where is not None
    scope = f"{at_work.scope or at_work.layer.id}-outside-{by.layer.id}"
    words = " and ".join(each for each in (at_work.where_words, f"not {by.where_words}") if each)
    return replace(at_work, where=restricted(at_work.where, Not(by.where)), where_words=words, scope=scope)


def is_about(change: Change, rule: RuleInForce) -> bool:
    """Whether a change is about a rule."""
    if isinstance(change.what, model.Redirect):
        what = change.what
        return any(model.is_redirected(cite, what) for cite in rule.cites)
    return rule.name == change.rule

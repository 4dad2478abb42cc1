"""What a layer makes of the rules below it on one day, as its cases see it: as if its authority might do anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from checker.rules.edition import pack_in_edition
from checker.rules.layers.apply import Amended, AtWork, amended
from checker.rules.layers.changing import changed
from checker.rules.layers.model import AddRule, Change, Layer
from checker.rules.model import May, Pack, Rule, RuleInForce
from checker.tasks.cases import USUAL_DATE


@dataclass(slots=True)
class LayerRules:
    """The rules under one layer, in the edition that it was written against; of other documents in the newest.

    What was worked out for a day is kept.
    """

    layer: Layer
    below: tuple[Layer, ...]
    packs: Sequence[Pack]
    _on: dict[date, Amended] = field(default_factory=dict)
    _base: tuple[RuleInForce, ...] | None = None

    def base(self) -> tuple[RuleInForce, ...]:
        """The rules of the packs, before any layer."""
        if self._base is None:
            self._base = tuple(rule for pack in self.packs for rule in pack_in_edition(pack, self._edition(pack), ""))
        return self._base

    def _edition(self, pack: Pack) -> str | None:
        if not pack.editions:
            return None
        amends = self.layer.amends
        return amends[1] if amends and amends[0] == pack.document else pack.editions[-1]

    def on(self, day: date) -> Amended:
        """What the layer and those below it make of the rules on a day."""
        if day not in self._on:
            stack = [AtWork(each, May.ANYTHING, rank, day) for rank, each in enumerate((*self.below, self.layer))]
            self._on[day] = amended(self.base(), stack)
        return self._on[day]

    def before(self, rule: str) -> RuleInForce | None:
        """A rule, named as pack:id, without any layer; None for one that the packs do not have in this edition."""
        return next((each for each in self.base() if each.rule.id == _id(rule) and each.name == rule), None)

    def rule_on(self, rule: str, day: date) -> RuleInForce | None:
        """A rule as it is in force on a day; None where it is not."""
        return next((each for each in self.on(day).rules if each.name == rule), None)

    def changes_of(self, rule: str) -> tuple[Change, ...]:
        """The changes that are about a rule."""
        return tuple(each for each in self.layer.changes if each.rule == rule)

    def named(self) -> tuple[str, ...]:
        """The rules that the layer is about, as pack:id, in its order."""
        return tuple(dict.fromkeys(each.rule for each in self.layer.changes if each.rule))

    def usual_day(self, rule: str) -> date:
        """The day on which a case runs that names none: the first on which every change of its rule counts; where none
        of them has a first day, the last.
        """
        terms = [each.terms for each in self.changes_of(rule)]
        starts = [each.start for each in terms if each.start is not None]
        ends = [each.until for each in terms if each.until is not None]
        return max(starts) if starts else min(ends, default=USUAL_DATE)

    def readable(self) -> Iterator[Rule]:
        """Each rule that the layer is about, with all exceptions that it has before or after the changes, so that a
        case can name what either of them reads.
        """
        for name in self.named():
            rule = self._readable(name)
            if rule is not None:
                yield rule

    def _readable(self, name: str) -> Rule | None:
        current = self.before(name) or self._of_layer(name)
        for change in self.changes_of(name):
            if isinstance(change.what, AddRule):
                continue
            after = None if current is None else changed(current, change, self.layer)
            if current is not None and after is not None:
                lost = tuple(each for each in current.rule.unless if each not in after.rule.unless)
                current = replace(after, rule=replace(after.rule, unless=(*after.rule.unless, *lost)))
        return None if current is None else current.rule

    def _of_layer(self, name: str) -> RuleInForce | None:
        for layer in (*self.below, self.layer):
            for change in layer.changes:
                if change.rule == name and isinstance(change.what, AddRule):
                    return RuleInForce(change.what.rule, None, layer.authority, change.what.rule.cites, {}, {})
        return None


def _id(rule: str) -> str:
    return rule.rpartition(":")[2]

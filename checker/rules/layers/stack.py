"""A layer on top of what it was written for, and each rule as the layer leaves it: for its cases and for lint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.edition import editions_of, pack_in_edition
from checker.rules.grammar import NO_EDITION
from checker.rules.layers import model
from checker.rules.layers.apply import amended
from checker.rules.layers.at_work import AtWork
from checker.rules.layers.changing import added, changed, has_effect
from checker.rules.layers.model import Change, Layer
from checker.rules.layers.own_papers import knowing, papers_of
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.model.profile import May
from checker.rules.model.rule import Rule


@dataclass(frozen=True, slots=True)
class Stack:
    """A layer with its file, the packs, and the layers below it, the lowest first. ``adopted`` are the editions of each
    document that the profile with the layer adopts, in the order of their days; none where no profile names it.
    """

    layer: Layer
    path: Path
    packs: tuple[Pack, ...]
    below: tuple[Layer, ...] = ()
    adopted: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def known(self, catalog: Catalog) -> Catalog:
        """The catalog with the papers that this layer and those below declare."""
        return knowing(catalog, papers_of((*self.below, self.layer)))

    def pack_of(self, rule: str) -> Pack | None:
        """The pack in which a rule (as pack:id) stands; None where a layer added it."""
        owner = rule.rpartition(":")[0]
        return next((each for each in self.packs if each.id == owner), None)

    def touched(self) -> dict[str, tuple[Change, ...]]:
        """Every rule that the layer changes or adds, as pack:id, with its changes."""
        found: dict[str, list[Change]] = {}
        for each in self.layer.changes:
            if each.rule:
                found.setdefault(each.rule, []).append(each)
        return {name: tuple(changes) for name, changes in found.items()}

    def editions(self, rule: str) -> tuple[str, ...]:
        """The editions in which a rule exists, oldest first; none for a rule of a layer or of practice."""
        pack = self.pack_of(rule)
        body = None if pack is None else _body(pack, rule)
        return () if pack is None or body is None else tuple(filter(None, editions_of(body, pack)))

    def usual_edition(self, rule: str) -> str | None:
        """The edition that the layer was written against, else the last that is adopted, else the last that has the
        rule.
        """
        editions = self.editions(rule)
        pack = self.pack_of(rule)
        document = "" if pack is None else pack.document
        amends = self.layer.amends
        written = (amends[1],) if amends is not None and amends[0] == document else ()
        named = (*written, *reversed(self.adopted.get(document, ())))
        return next((each for each in named if each in editions), editions[-1] if editions else None)

    def is_elsewhere(self, rule: str) -> bool:
        """Whether a rule stands only in editions of its document that the profile does not adopt."""
        pack = self.pack_of(rule)
        adopted = () if pack is None else self.adopted.get(pack.document, ())
        return bool(adopted) and not set(adopted) & set(self.editions(rule))

    def usual_day(self, rule: str) -> date | None:
        """The first day on which every change of the rule has begun; where none has a first day the first of their last
        days, and None where they have none either.
        """
        terms = [each.terms for each in self.touched().get(rule, ())]
        starts = [each.start for each in terms if each.start is not None]
        ends = [each.until for each in terms if each.until is not None]
        return max(starts) if starts else min(ends, default=None)

    def rule_on(self, rule: str, edition: str | None, on: date) -> RuleInForce | None:
        """The rule as the layers leave it on a day, whatever their authorities may do; None where it is not in
        force.
        """
        return self._under((*self.below, self.layer), rule, edition, on)

    def before(self, rule: str, edition: str | None, on: date) -> RuleInForce | None:
        """The rule as the layers below leave it on a day; None where it is not in force without this layer."""
        return self._under(self.below, rule, edition, on)

    def _under(self, layers: tuple[Layer, ...], rule: str, edition: str | None, on: date) -> RuleInForce | None:
        pack = self.pack_of(rule)
        base = () if pack is None else _in_force(pack, rule, edition)
        work = [AtWork(each, May.ANYTHING, rank, on) for rank, each in enumerate(layers, start=1)]
        return next((each for each in amended(base, work).rules if each.name == rule), None)

    def forms(self, rule: str) -> Iterator[Rule]:
        """The rule in every form that a case can meet: before the layer in each edition, and after each change."""
        pack = self.pack_of(rule)
        editions = self.editions(rule) or (NO_EDITION,)
        bases = [] if pack is None else [each for edition in editions for each in _in_force(pack, rule, edition)]
        for layer in (*self.below, self.layer):
            for change in layer.changes:
                if change.rule != rule or isinstance(change.what, model.PreEmpt):
                    continue
                if isinstance(change.what, model.AddRule):
                    bases.append(added(change.what.rule, layer, change))
                    continue
                after = [changed(each, change, layer) for each in bases if has_effect(each, change)]
                bases += [each for each in after if each is not None]
        yield from (each.rule for each in bases)


def _body(pack: Pack, rule: str) -> Rule | None:
    return next((each for each in pack.rules if f"{pack.id}:{each.id}" == rule), None)


def _in_force(pack: Pack, rule: str, edition: str | None) -> tuple[RuleInForce, ...]:
    """The rule of a pack in an edition, with every interim amendment; nothing where it is not in it."""
    body = _body(pack, rule)
    if body is None or (pack.editions and edition not in pack.editions):
        return ()
    interim = frozenset(pack.interim.get(edition or NO_EDITION, {}))
    return tuple(pack_in_edition(replace(pack, rules=(body,)), edition or None, "", interim))

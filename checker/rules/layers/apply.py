"""Layers applied to the rules of the model codes, rank by rank, on one date.

A change within what its authority may do is made. One beyond it is not made, and the rule stands in both versions, for
the AHJ to decide. So do two changes of one rule by layers of one rank, unless one says that it goes over the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from checker.rules.layers import model
from checker.rules.layers.changing import added, changed, history, sentence
from checker.rules.layers.direction import is_within, may_set
from checker.rules.layers.model import Change, Layer
from checker.rules.layers.scopes import only_where, split_where
from checker.rules.model import (
    Condition,
    DeletedHere,
    History,
    LayerInForce,
    LayerNotice,
    May,
    ParameterValue,
    RuleInForce,
    Version,
)

Numbers = Mapping[tuple[str, str], ParameterValue]
"""Parameters in force by pack and name."""

NONE: Numbers = {}

Changer = Callable[[RuleInForce], tuple[RuleInForce, ...]]

_DO_NOT_COLLIDE = (
    model.AddException,
    model.AddWay,
    model.Renumber,
    model.Confirm,
    model.Redirect,
    model.PreEmpt,
    model.AddRule,
)


@dataclass(frozen=True, slots=True)
class AtWork:
    """A layer with what its authority may do, its rank, the date that counts for it, and where it holds.

    ``before`` leaves only the changes that began before that day: the applicant has elected the rules before it.
    """

    layer: Layer
    may: May
    rank: int
    on: date
    before: date | None = None
    where: Condition | None = None

    def changes(self) -> Iterator[Change]:
        """The changes that count."""
        for each in self.layer.changes:
            start = each.terms.start
            was_before = self.before is None or (start is not None and start < self.before)
            # A limit takes the rule away outside its dates, any other change is made inside them.
            if was_before and each.terms.holds_on(self.on) is not isinstance(each.what, model.LimitRule):
                yield each


@dataclass(frozen=True, slots=True)
class Amended:
    """What the layers make of the rules."""

    rules: tuple[RuleInForce, ...]
    layers: tuple[LayerInForce, ...]
    deleted: tuple[DeletedHere, ...]
    notices: tuple[LayerNotice, ...]
    numbers: Numbers


def amended(rules: Iterable[RuleInForce], layers: Sequence[AtWork], numbers: Numbers = NONE) -> Amended:
    """Apply the layers, those of the lowest rank first. ``numbers`` are the parameters of all packs in force."""
    bench = _Bench(list(rules), dict(numbers))
    for rank in sorted({each.rank for each in layers}):
        bench.apply([each for each in layers if each.rank == rank])
    in_force = tuple(
        LayerInForce(
            each.layer.id,
            each.layer.title,
            each.layer.authority,
            each.layer.digest,
            each.may,
            len({change.terms.number for change in each.changes()}),
        )
        for each in sorted(layers, key=lambda each: each.rank)
    )
    return Amended(tuple(bench.rules), in_force, tuple(bench.deleted), tuple(bench.notices), bench.numbers)


@dataclass(slots=True)
class _Bench:
    """The rules under way."""

    rules: list[RuleInForce]
    numbers: dict[tuple[str, str], ParameterValue]
    deleted: list[DeletedHere] = field(default_factory=list)
    notices: list[LayerNotice] = field(default_factory=list)
    pre_empted: list[tuple[Change, Layer]] = field(default_factory=list)

    def apply(self, layers: Sequence[AtWork]) -> None:
        """The layers of one rank."""
        given = [(at_work, change) for at_work in layers for change in at_work.changes()]
        allowed = [(at_work, change) for at_work, change in given if not self._is_pre_empted(at_work, change)]
        standing = [pair for pair in allowed if not self._gives_way(pair, allowed)]
        collided: set[int] = set()
        for place, (at_work, change) in enumerate(standing):
            if place in collided:
                continue
            others = [
                other
                for other in range(place + 1, len(standing))
                if other not in collided and _collide(standing[place], standing[other])
            ]
            if others:
                collided.update(others)
                self._collision([standing[place], *(standing[other] for other in others)])
            else:
                self._make(at_work, change)

    def _gives_way(self, pair: tuple[AtWork, Change], among: Sequence[tuple[AtWork, Change]]) -> bool:
        """Whether another change of this rank says that it goes over this one."""
        at_work, _ = pair
        return any(at_work.layer.id in other.terms.over and _same_target(pair, (work, other)) for work, other in among)

    def _is_pre_empted(self, at_work: AtWork, change: Change) -> bool:
        for held, by in self.pre_empted:
            assert isinstance(held.what, model.PreEmpt)
            named = not held.what.layers or at_work.layer.id in held.what.layers
            if held.rule == change.rule and named:
                self.notices.append(
                    LayerNotice(
                        "pre_empted",
                        f"{change.name} ({change.terms.word.replace('_', ' ')} {change.written}) is not applied: "
                        f"{by.authority} leaves {held.rule} to no lower authority.",
                        change.terms.at,
                    )
                )
                return True
        return False

    # --- one change -------------------------------------------------------------------------------------------------

    def _make(self, at_work: AtWork, change: Change) -> None:
        what = change.what
        if isinstance(what, model.SetNumber):
            self._set(at_work, change, what)
        if isinstance(what, model.AddRule):
            self._add(at_work, change, what)
        elif isinstance(what, model.PreEmpt):
            self._pre_empt(at_work, change)
        elif change.rule or isinstance(what, model.Redirect):
            self._change_each(change, lambda rule: self._changed(rule, at_work, change))

    def _add(self, at_work: AtWork, change: Change, what: model.AddRule) -> None:
        rule = only_where(added(what.rule, at_work.layer, change), at_work.where)
        if not is_within(at_work.may, what, None):
            self._beyond(at_work, change)
            versions = (Version("the rules below it", None), Version(at_work.layer.authority, rule))
            rule = replace(rule, versions=versions)
        self.rules.append(rule)

    def _set(self, at_work: AtWork, change: Change, what: model.SetNumber) -> None:
        """The number that calculations read. One beyond the authority, or that holds only somewhere, is not set."""
        old = self.numbers.get((what.pack, what.parameter))
        if old is None:
            return
        if at_work.where is None and may_set(at_work.may, what, old):
            self.numbers[what.pack, what.parameter] = what.value
        elif not change.rule:
            self._beyond(at_work, change)

    def _pre_empt(self, at_work: AtWork, change: Change) -> None:
        if is_within(at_work.may, change.what, None):
            self.pre_empted.append((change, at_work.layer))
        else:
            self._beyond(at_work, change)

    def _change_each(self, change: Change, work: Changer) -> None:
        """Every rule in force that the change is about; where there is none the reader is told."""
        places = [place for place, rule in enumerate(self.rules) if _is_about(change, rule)]
        if not places:
            self._not_in_force(change)
        for place in reversed(places):
            self.rules[place : place + 1] = work(self.rules[place])

    def _not_in_force(self, change: Change) -> None:
        self.notices.append(
            LayerNotice(
                "nothing_to_change",
                f"{change.name} ({change.terms.word.replace('_', ' ')} {change.written}) changes nothing: "
                "no such rule is in force on this date.",
                change.terms.at,
                "Read the layer again against the edition that is in force.",
            )
        )

    def _changed(self, rule: RuleInForce, at_work: AtWork, change: Change) -> tuple[RuleInForce, ...]:
        """The rule after the change; in both versions where the authority may not make it. Where the layer holds only
        somewhere, the rule as it was stays elsewhere.
        """
        if rule.versions:
            versions = tuple(self._changed_version(each, at_work, change) for each in rule.versions)
            return (replace(rule, versions=versions),)
        layer, after = at_work.layer, changed(rule, change, at_work.layer)
        if not is_within(at_work.may, change.what, rule):
            self._beyond(at_work, change)
            versions = (Version(_holder(rule), rule), Version(layer.authority, after))
            told = (*rule.history, _not_applied(rule, change, layer))
            after = replace(rule, versions=versions, history=told)
        elif after is None:
            self.deleted.append(DeletedHere(rule, history(rule, change, layer)))
        return split_where(rule, after, at_work.where, layer.id)

    def _changed_version(self, version: Version, at_work: AtWork, change: Change) -> Version:
        if version.rule is None or not is_within(at_work.may, change.what, version.rule):
            return version
        return Version(version.held_by, changed(version.rule, change, at_work.layer))

    def _beyond(self, at_work: AtWork, change: Change) -> None:
        allowed = {
            May.TIGHTEN: "may only tighten the rules below it",
            May.EASE: "may only ease the rules below it",
            May.NOTHING: "may not change the rules below it",
        }
        self.notices.append(
            LayerNotice(
                "beyond_authority",
                f"{at_work.layer.authority} {allowed[at_work.may]}, so {change.name} "
                f"({change.terms.word.replace('_', ' ')} {change.written}) is not applied; both versions are shown.",
                change.terms.at,
                "The AHJ decides which of them counts.",
            )
        )

    # --- collisions -------------------------------------------------------------------------------------------------

    def _collision(self, changes: Sequence[tuple[AtWork, Change]]) -> None:
        """Several changes of one thing by layers of one rank: the rule stands in each version."""
        names = [f"{change.name} ({at_work.layer.authority})" for at_work, change in changes]
        first = changes[0][1]
        self.notices.append(
            LayerNotice(
                "collision",
                f"{' and '.join(names)} change {first.written} and have the same rank, so neither goes before.",
                first.terms.at,
                "The AHJ decides which of them counts; a layer that goes over the other says `over:`.",
            )
        )
        self._change_each(first, lambda rule: _in_versions(rule, changes))


def _in_versions(rule: RuleInForce, changes: Sequence[tuple[AtWork, Change]]) -> tuple[RuleInForce, ...]:
    about = [(at_work, change) for at_work, change in changes if _is_about(change, rule)]
    versions = tuple(
        Version(at_work.layer.authority, changed(rule, change, at_work.layer)) for at_work, change in about
    )
    told = tuple(history(rule, change, at_work.layer) for at_work, change in about)
    return (replace(rule, versions=versions, history=(*rule.history, *told)),)


def _is_about(change: Change, rule: RuleInForce) -> bool:
    if isinstance(change.what, model.Redirect):
        return any(cite.document == change.what.document for cite in rule.cites)
    return rule.name == change.rule


def _collide(one: tuple[AtWork, Change], other: tuple[AtWork, Change]) -> bool:
    """Whether two changes of different layers cannot both be made."""
    if one[0].layer.id == other[0].layer.id or not _same_target(one, other):
        return False
    return not (isinstance(one[1].what, _DO_NOT_COLLIDE) or isinstance(other[1].what, _DO_NOT_COLLIDE))


def _same_target(one: tuple[AtWork, Change], other: tuple[AtWork, Change]) -> bool:
    """Whether both change the same rule, and where both set a number the same number."""
    first, second = one[1], other[1]
    if first is second or first.rule != second.rule or not first.rule:
        return False
    if isinstance(first.what, model.SetNumber) and isinstance(second.what, model.SetNumber):
        return first.what.parameter == second.what.parameter
    return True


def _holder(rule: RuleInForce) -> str:
    return rule.history[-1].authority if rule.history else rule.authority or "the rules below it"


def _not_applied(rule: RuleInForce, change: Change, layer: Layer) -> History:
    found = history(rule, change, layer)
    return replace(found, sentence=f"wants: {sentence(rule, change)} (beyond its authority, not applied)")

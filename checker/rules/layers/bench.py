"""The rules under way while layers change them, rank by rank."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from checker.rules.layers import model
from checker.rules.layers.at_work import AtWork, Made, is_about, named, outside, told
from checker.rules.layers.changing import added, changed, has_effect, history
from checker.rules.layers.colliding import collide, gives_way, is_neutral
from checker.rules.layers.direction import is_within, may_set
from checker.rules.layers.model import Change
from checker.rules.layers.scopes import only_where
from checker.rules.layers.versions import (
    alike,
    changed_version,
    holder,
    not_applied,
    settled,
    successively,
    with_version,
)
from checker.rules.model.conditions import Not
from checker.rules.model.in_force import DeletedHere, History, LayerNotice, RuleInForce, Version
from checker.rules.model.numbers import ParameterValue
from checker.rules.model.profile import May

_MAY_WORDS = {
    May.TIGHTEN: "may only tighten the rules below it",
    May.EASE: "may only ease the rules below it",
    May.NOTHING: "may not change the rules below it",
}


@dataclass(frozen=True, slots=True)
class Piece:
    """A rule under way, or the form of it that holds inside the scopes of some layers and outside those of others."""

    rule: RuleInForce
    inside: tuple[str, ...] = ()
    outside: frozenset[str] = frozenset()

    def split(self, at_work: AtWork) -> tuple[Piece, ...]:
        """The form elsewhere and the form where the layer holds; itself where it is wholly the one or the other."""
        scope = at_work.scope or at_work.layer.id
        if at_work.where is None or scope in self.inside or scope in self.outside:
            return (self,)
        inside = (*self.inside, scope)
        here = replace(only_where(self.rule, at_work.where), only_in="+".join(inside))
        elsewhere = only_where(self.rule, Not(at_work.where))
        return (
            Piece(elsewhere, self.inside, self.outside | {scope}),
            Piece(here, inside, self.outside),
        )

    def is_under(self, at_work: AtWork) -> bool:
        """Whether the layer holds here, once it is split."""
        return at_work.where is None or (at_work.scope or at_work.layer.id) in self.inside


@dataclass(slots=True)
class Bench:
    """The rules under way."""

    pieces: list[Piece]
    numbers: dict[tuple[str, str], ParameterValue]
    deleted: list[DeletedHere] = field(default_factory=list)
    notices: list[LayerNotice] = field(default_factory=list)
    pre_empted: list[Made] = field(default_factory=list)
    same_rank: frozenset[str] = frozenset()
    touched: set[tuple[str, int]] = field(default_factory=set)
    untouched: dict[tuple[str, int], LayerNotice] = field(default_factory=dict)

    def all_notices(self) -> Iterator[LayerNotice]:
        """What a reader must know; a change that nothing came of is told once, however many rules it names."""
        yield from dict.fromkeys(self.notices)
        yield from (notice for key, notice in self.untouched.items() if key not in self.touched)

    def apply(self, layers: Sequence[AtWork]) -> None:
        """The layers of one rank."""
        self.same_rank = frozenset(each.layer.id for each in layers)
        given = [(at_work, change) for at_work in layers for change in at_work.changes()]
        allowed = [made for pair in given for made in self._not_pre_empted(pair)]
        standing = [made for pair in allowed for made in self._standing(pair, allowed)]
        contested = self._contested(standing)
        done: set[str] = set()
        for at_work, change in standing:
            if change.rule in contested and self._is_in_contest(at_work, change, contested):
                if change.rule not in done:
                    done.add(change.rule)
                    self._collision([each for each in standing if each[1].rule == change.rule], contested[change.rule])
            else:
                self._make(at_work, change)

    def _is_in_contest(self, at_work: AtWork, change: Change, contested: dict[str, frozenset[str]]) -> bool:
        return at_work.layer.id in contested[change.rule] and self._may(at_work, change)

    # --- what goes before what --------------------------------------------------------------------------------------

    def _not_pre_empted(self, pair: Made) -> Iterator[Made]:
        at_work, change = pair
        for by, held in self.pre_empted:
            assert isinstance(held.what, model.PreEmpt)
            named = not held.what.layers or at_work.layer.id in held.what.layers
            if held.rule == change.rule and named:
                where = f", where {by.where_words}" if by.where_words else ""
                self._tell(
                    "pre_empted",
                    f"{told(change)} is not applied{where}: {by.layer.authority} leaves {held.rule} to no lower "
                    "authority.",
                    change,
                )
                if by.where is None:
                    return
                at_work = outside(at_work, by)
        yield at_work, change

    def _standing(self, pair: Made, among: Sequence[Made]) -> Iterator[Made]:
        """The change, unless another of this rank says that it goes over it; elsewhere, if that one holds only
        somewhere.
        """
        at_work, change = pair
        for work, other in among:
            if gives_way(change, other) and not gives_way(other, change) and self._may(work, other):
                where = f", where {work.where_words}" if work.where_words else ""
                self._tell("goes_over", f"{told(change)} gives way to {other.name}{where}, which says so.", change)
                if work.where is None:
                    return
                at_work = outside(at_work, work)
        yield at_work, change

    def _contested(self, standing: Sequence[Made]) -> dict[str, frozenset[str]]:
        """The rules that layers of this rank change in ways that do not go together, each with these layers."""
        found: dict[str, set[str]] = {}
        within = [(at_work, change) for at_work, change in standing if self._may(at_work, change)]
        for place, (_, one) in enumerate(within):
            for _, other in within[place + 1 :]:
                if collide(one, other):
                    found.setdefault(one.rule, set()).update((one.layer, other.layer))
        return {rule: frozenset(layers) for rule, layers in found.items()}

    def _may(self, at_work: AtWork, change: Change) -> bool:
        before = next((piece.rule for piece in self.pieces if is_about(change, piece.rule)), None)
        return is_within(at_work.may, change.what, before)

    # --- one change -------------------------------------------------------------------------------------------------

    def _make(self, at_work: AtWork, change: Change) -> None:
        if isinstance(change.what, model.SetNumber):
            self._set(at_work, change, change.what)
        if isinstance(change.what, model.AddRule):
            self._add(at_work, change, change.what)
        elif isinstance(change.what, model.PreEmpt):
            self._pre_empt(at_work, change)
        elif change.rule or isinstance(change.what, model.Redirect):
            self._change_each(at_work, change)

    def _add(self, at_work: AtWork, change: Change, what: model.AddRule) -> None:
        rule = only_where(added(what.rule, at_work.layer, change, at_work.held), at_work.where)
        if not is_within(at_work.may, what, None):
            self._beyond(at_work, change)
            versions = (Version("the rules below it", None), Version(at_work.layer.authority, rule))
            rule = replace(rule, versions=versions)
        self.pieces.append(Piece(rule))

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
            self.pre_empted.append((at_work, change))
        else:
            self._beyond(at_work, change)

    def _change_each(self, at_work: AtWork, change: Change) -> None:
        """Every rule in force that the change is about; where there is none the reader is told."""
        if not any(is_about(change, piece.rule) for piece in self.pieces):
            self._nothing_to_change(change, self._why_gone(change))
        pieces: list[Piece] = []
        for piece in self.pieces:
            pieces += self._changed(piece, at_work, change) if is_about(change, piece.rule) else (piece,)
        self.pieces = pieces

    def _changed(self, piece: Piece, at_work: AtWork, change: Change) -> Iterator[Piece]:
        """The rule after the change. Where the layer holds only somewhere, the rule as it was stays elsewhere."""
        if not has_effect(piece.rule, change):
            self._nothing_to_change(change, "the rule that is in force has nothing of the kind.")
            yield piece
            return
        self.touched.add((change.layer, change.terms.number))
        for part in piece.split(at_work):
            after = self._changed_rule(part.rule, at_work, change) if part.is_under(at_work) else part.rule
            if after is not None:
                yield replace(part, rule=after)

    def _changed_rule(self, rule: RuleInForce, at_work: AtWork, change: Change) -> RuleInForce | None:
        """One rule after the change; in both versions where the authority may not make it, or where the rule is that of
        another authority of its rank.
        """
        if self._is_of_another_of_this_rank(rule, change):
            return self._beside(rule, at_work, change)
        if not is_within(at_work.may, change.what, rule):
            self._beyond(at_work, change)
            record = not_applied(rule, change, at_work)
            return replace(rule, versions=with_version(rule, at_work, change), history=(*rule.history, record))
        if rule.versions:
            return self._changed_versions(rule, at_work, change)
        after = changed(rule, change, at_work.layer, at_work.held)
        if after is None:
            self._delete(rule, history(rule, change, at_work.layer, at_work.held))
        return after

    def _is_of_another_of_this_rank(self, rule: RuleInForce, change: Change) -> bool:
        owner = rule.rule.pack
        return (
            owner in self.same_rank
            and owner not in (change.layer, *change.terms.over)
            and not is_neutral(change)
            and not isinstance(change.what, model.AddException | model.AddWay)
        )

    def _beside(self, rule: RuleInForce, at_work: AtWork, change: Change) -> RuleInForce:
        """The rule of one authority, and what another of its rank wants in its place."""
        self._tell_collision([f"{rule.rule.pack} ({holder(rule)})", named(at_work, change)], rule, change)
        record = history(rule, change, at_work.layer, at_work.held)
        return replace(rule, versions=with_version(rule, at_work, change), history=(*rule.history, record))

    def _changed_versions(self, rule: RuleInForce, at_work: AtWork, change: Change) -> RuleInForce | None:
        """A rule that stands in several versions, changed in each; one rule again where they are alike now."""
        versions = tuple(changed_version(each, at_work, change) for each in rule.versions)
        record = history(rule, change, at_work.layer, at_work.held)
        if all(each.rule is None for each in versions):
            self._delete(rule, record)
            return None
        after = replace(rule, versions=versions, history=(*rule.history, record))
        return settled(after)

    def _delete(self, rule: RuleInForce, record: History) -> None:
        self.deleted.append(DeletedHere(rule, record))

    # --- what is told -----------------------------------------------------------------------------------------------

    def _tell(self, kind: str, words: str, change: Change, remedy: str = "") -> None:
        self.notices.append(LayerNotice(kind, words, change.terms.at, remedy))

    def _why_gone(self, change: Change) -> str:
        by = next((each.history for each in self.deleted if each.rule.name == change.rule), None)
        return (
            "no such rule is in force on this date."
            if by is None
            else f"the rule is not in force here ({by.authority}: {by.sentence})."
        )

    def _nothing_to_change(self, change: Change, why: str) -> None:
        notice = LayerNotice(
            "nothing_to_change",
            f"{told(change)} changes nothing: {why}",
            change.terms.at,
            "Read the layer again against the edition that is in force.",
        )
        self.untouched.setdefault((change.layer, change.terms.number), notice)

    def _beyond(self, at_work: AtWork, change: Change) -> None:
        if not isinstance(change.what, model.AddRule | model.PreEmpt):
            self.touched.add((change.layer, change.terms.number))
        both = "" if isinstance(change.what, model.PreEmpt) else "; both versions are shown"
        self._tell(
            "beyond_authority",
            f"{at_work.layer.authority} {_MAY_WORDS[at_work.may]}, so {told(change)} is not applied{both}.",
            change,
            "The AHJ decides which of them counts." if both else "",
        )

    # --- collisions -------------------------------------------------------------------------------------------------

    def _collision(self, changes: Sequence[Made], layers: frozenset[str]) -> None:
        """Several changes of one thing by layers of one rank: the rule stands in each version where both hold."""
        mine = [(work, each) for work, each in changes if work.layer.id in layers and self._may(work, each)]
        pieces: list[Piece] = []
        for piece in self.pieces:
            if not is_about(mine[0][1], piece.rule):
                pieces.append(piece)
                continue
            parts = [piece]
            for at_work, _ in mine:
                parts = [half for part in parts for half in part.split(at_work)]
            for part in parts:
                pieces += self._collided(part, [(work, each) for work, each in mine if part.is_under(work)])
        if not any(is_about(mine[0][1], piece.rule) for piece in self.pieces):
            for _, change in mine:
                self._nothing_to_change(change, self._why_gone(change))
        self.pieces = pieces

    def _collided(self, piece: Piece, changes: Sequence[Made]) -> Iterator[Piece]:
        """One form of the rule, under the layers that hold there."""
        rule = piece.rule
        by_layer = {
            work.layer.id: [made for made in changes if made[0].layer.id == work.layer.id] for work, _ in changes
        }
        self.touched.update((change.layer, change.terms.number) for _, change in changes)
        wanted = {layer: successively(rule, mine) for layer, mine in by_layer.items()}
        record = tuple(history(rule, change, work.layer, work.held) for work, change in changes)
        after = next(iter(wanted.values()), rule)
        if all(alike(after, each) for each in wanted.values()):
            if after is not None:
                yield replace(piece, rule=replace(after, history=(*rule.history, *record)))
            else:
                self._delete(rule, record[0])
            return
        versions = tuple(Version(mine[0][0].layer.authority, wanted[layer]) for layer, mine in by_layer.items())
        names = [named(*mine[0]) for mine in by_layer.values()]
        self._tell_collision(names, rule, changes[0][1])
        yield replace(piece, rule=replace(rule, versions=versions, history=(*rule.history, *record)))

    def _tell_collision(self, names: Sequence[str], rule: RuleInForce, change: Change) -> None:
        self._tell(
            "collision",
            f"{' and '.join(names)} do not agree about {rule.name} and have the same rank, so neither goes before.",
            change,
            "The AHJ decides which of them counts; a layer that goes over the other says `over:`.",
        )

"""What a profile comes to on a date: of each document the edition that is in force, and on it the layers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from checker.rules.edition import pack_in_edition
from checker.rules.in_force.documents import BY_INTERIM, Documents
from checker.rules.in_force.elections import Elections
from checker.rules.in_force.layers import Layers
from checker.rules.in_force.numbers import by_name, parameters, tables
from checker.rules.in_force.occasion import Days, Occasion
from checker.rules.layers.apply import Amended, amended
from checker.rules.layers.changing import both
from checker.rules.layers.model import Layer
from checker.rules.layers.own_papers import papers_of
from checker.rules.layers.scopes import only_where, scoped
from checker.rules.model.conditions import Condition
from checker.rules.model.in_force import LayerNotice, NumbersInForce, PackInForce, RuleInForce, RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Adoption, Profile
from checker.rules.problem_list import ProblemList

NO_DATES: Mapping[str, date] = {}


def rules_in_force(
    profile: Profile,
    on: date,
    packs: Iterable[Pack],
    layers: Sequence[Layer] = (),
    dates: Mapping[str, date] = NO_DATES,
    elected: Iterable[str] = (),
) -> RulesInForce:
    """The rules that a profile comes to: of each document the edition adopted last, every pack without editions, and
    what the layers make of them.

    ``dates`` are those of events other than the profile's own, ``elected`` names documents or layers whose older rules
    the applicant has elected. Raises Unreadable where the date lies before every adoption, where a date is missing, or
    where an adopted document, edition or layer is not there.
    """
    occasion = Occasion(on, dates, frozenset(elected))
    return _InForce(profile, tuple(packs), layers, occasion).rules()


class _InForce:
    """One profile on one occasion."""

    def __init__(self, profile: Profile, packs: tuple[Pack, ...], layers: Sequence[Layer], occasion: Occasion) -> None:
        self._profile = profile
        self._on = occasion.on
        self._own_papers = papers_of({each.id: each for each in layers}.values())
        self._problems = ProblemList()
        self._days = Days(profile, occasion, self._problems)
        self._elections = Elections(profile, occasion.elected, self._days, self._problems)
        self._documents = Documents(profile, occasion.on, packs, self._days, self._elections, self._problems)
        self._layers = Layers(profile, layers, packs, self._days, self._elections, self._problems)

    def rules(self) -> RulesInForce:
        """Everything in force."""
        packs = tuple(self._documents.packs(self._documents.adopted()))
        rules = [rule for pack, adoption in packs for rule in _rules_of(pack, adoption, self._day_for(adoption))]
        at_work = tuple(self._layers.at_work())
        self._layers.check_together(at_work)
        self._elections.check()
        used = tuple(_pack_in_force(*each) for each in packs)
        self._layers.check_written_against(at_work, used)
        made = amended(rules, at_work, parameters(packs))
        self._problems.raise_if_any()
        return self._resolved(made, used, NumbersInForce(by_name(made.numbers), tables(packs)))

    def _day_for(self, adoption: Adoption | None) -> date:
        return self._days.or_own(None if adoption is None else adoption.event)

    def _resolved(self, made: Amended, packs: tuple[PackInForce, ...], numbers: NumbersInForce) -> RulesInForce:
        profile = self._profile
        own = tuple(RuleInForce(rule, None, profile.title, rule.cites, {}, {}) for rule in profile.papers)
        rules = tuple(_interpreted(scoped(rule), profile) for rule in (*made.rules, *own))
        return RulesInForce(
            profile,
            self._on,
            rules,
            packs,
            made.layers,
            made.deleted,
            (
                *self._documents.notices,
                *self._elections.notices,
                *self._layers.notices,
                *self._without_rule(rules, made),
                *made.notices,
            ),
            tuple(self._elections.told),
            profile.permissions,
            numbers,
            self._own_papers,
        )

    def _without_rule(self, rules: Sequence[RuleInForce], made: Amended) -> Iterator[LayerNotice]:
        """What stands on record about a rule that is not in force: it is told, so that it does not get lost."""
        known = {name for each in (*rules, *(gone.rule for gone in made.deleted)) for name in (each.name, each.rule.id)}
        for record in self._profile.interpretations:
            if record.rule not in known:
                near = self._problems.near(record.rule, sorted(known))
                yield LayerNotice(
                    "record_without_rule",
                    f"The interpretation by {record.by} ({record.on}) is about {record.rule}, "
                    "and no such rule is in force.",
                    record.at,
                    f"The nearest is {near}." if near else "Look for it with rules list.",
                )


def _rules_of(pack: Pack, adoption: Adoption | None, day: date) -> Iterator[RuleInForce]:
    if adoption is None:
        yield from pack_in_edition(pack, None, "")
        return
    counting = _interim_counting(pack, adoption, day)
    for rule in pack_in_edition(pack, adoption.edition or None, adoption.adopted_by, counting):
        yield only_where(_only_for(rule, adoption.only), adoption.where)


def _only_for(rule: RuleInForce, only: Mapping[str, Condition]) -> RuleInForce:
    """The rule, for those of its subject that a code sends to it."""
    body = rule.rule
    asked = only.get(body.subject)
    return rule if asked is None else replace(rule, rule=replace(body, when=both(body.when, asked)))


def _interim_counting(pack: Pack, adoption: Adoption, day: date) -> frozenset[str]:
    """The interim amendments that are adopted with an edition, each from its own day on."""
    by_all = BY_INTERIM in adoption.interim
    return frozenset(
        number
        for number, start in pack.interim.get(adoption.edition, {}).items()
        if start <= day and (by_all or number in adoption.interim)
    )


def _pack_in_force(pack: Pack, adoption: Adoption | None) -> PackInForce:
    if adoption is None:
        return PackInForce(pack.id, pack.title, None, pack.digest, "", None)
    edition = adoption.edition or None
    return PackInForce(
        pack.id, pack.title, edition, pack.digest, adoption.adopted_by, adoption.start, adoption.where_words
    )


def _interpreted(rule: RuleInForce, profile: Profile) -> RuleInForce:
    about = tuple(each for each in profile.interpretations if each.rule in (rule.name, rule.rule.id))
    return replace(rule, interpretations=about) if about else rule

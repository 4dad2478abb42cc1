"""One rule applied to one subject: what can come out, first coarsely, then in each branch of undecided choices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import product

from checker.facts.known import Ask, Leaf
from checker.findings.judging.conditions import Judge, Judged
from checker.findings.judging.evidence import Evidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import (
    NOTHING_ASKED,
    Outcome,
    Outcomes,
    miss_of,
    outcomes_of_look,
    outcomes_of_readings,
    outcomes_of_versions,
    possible_outcomes,
    settled,
)
from checker.findings.judging.paths import Place
from checker.rules.model.in_force import RuleInForce, Version
from checker.site.model import Subject
from checker.values.possible import Possible
from checker.values.truth import Truth, all_of, any_of, from_ways

BRANCH_LIMIT = 64
"""More branches than this are not walked; the answer then rests on the coarse look. A limit of effort."""

LEAF_LIMIT = 8
"""A leaf with more alternatives than this is not branched on."""


Belonging = Callable[[Evidence], Judged]
"""Whether a subject has the role, or is the pair, that a rule speaks of; asked again in each branch."""


@dataclass(frozen=True, slots=True)
class Applied:
    """One look at a rule: every condition with its answer, and what can come out."""

    possible: Outcomes
    belongs: Judged
    when: Judged
    exceptions: Mapping[str, Judged]
    requires: Judged | None
    parts: Mapping[str, Judged]
    any_way: bool
    instead: str | None
    readings: Mapping[str, Judged]

    @property
    def everything(self) -> tuple[Judged, ...]:
        """All that was judged."""
        asked = (self.requires,) if self.requires is not None else ()
        return (self.belongs, self.when, *self.exceptions.values(), *asked, *self.readings.values())


@dataclass(frozen=True, slots=True)
class VersionOutcome:
    """What can come out under one version of a rule of which authorities hold several, and the looks at it; none where
    the authority has no such rule.
    """

    held_by: str
    possible: Outcomes
    looks: tuple[Applied, ...] = ()


@dataclass(frozen=True, slots=True)
class Evaluation:
    """A rule applied to a subject: what can come out over all branches, and the coarse look for the reader."""

    look: Applied
    possible: Outcomes
    numbers_read: frozenset[str]
    too_many_branches: bool = False
    versions: tuple[VersionOutcome, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """The outcome of the finding."""
        return settled(self.possible)

    @property
    def looks(self) -> tuple[Applied, ...]:
        """The looks at the rule on which the outcome rests: that at each version, where authorities hold several."""
        return tuple(look for each in self.versions for look in each.looks) if self.versions else (self.look,)


def evaluate(rule: RuleInForce, subject: Subject, belongs: Belonging, evidence: Evidence, on: date) -> Evaluation:
    """Apply a rule in force to a subject. ``belongs`` answers on any evidence whether the subject has the role or is
    the pair.

    A rule that stands in several versions is applied in each; where they come to different things it is for the AHJ.
    """
    if rule.versions:
        return _in_versions(rule, subject, belongs, evidence, on)
    numbers = Numbers.of(rule)
    look = applied(rule, subject, belongs(evidence), evidence, on, numbers)
    if settled(look.possible) is not Outcome.NEEDS_INFORMATION:
        return Evaluation(look, look.possible, frozenset(numbers.read))
    choices, cut = _choices(look, evidence)
    if not choices:
        return Evaluation(look, look.possible, frozenset(numbers.read), cut)
    possible: Outcomes = frozenset()
    for pins in _branches(choices):
        branch = evidence.pinned(pins)
        possible |= applied(rule, subject, belongs(branch), branch, on, numbers).possible
        if look.possible <= possible:
            # Another branch could add nothing that the coarse look allows.
            break
    # Both looks are right about what cannot come out, so only what both allow is possible.
    return Evaluation(look, possible & look.possible, frozenset(numbers.read), cut)


def _in_versions(rule: RuleInForce, subject: Subject, belongs: Belonging, evidence: Evidence, on: date) -> Evaluation:
    own = evaluate(replace(rule, versions=()), subject, belongs, evidence, on)
    found = tuple((each, _version(each, subject, belongs, evidence, on)) for each in rule.versions)
    versions = tuple(
        VersionOutcome(each.held_by, NOTHING_ASKED)
        if evaluated is None
        else VersionOutcome(each.held_by, evaluated.possible, evaluated.looks)
        for each, evaluated in found
    )
    read = own.numbers_read.union(*(each.numbers_read for _, each in found if each is not None))
    cut = any(each.too_many_branches for _, each in found if each is not None)
    return Evaluation(own.look, outcomes_of_versions(each.possible for each in versions), read, cut, versions)


def _version(version: Version, subject: Subject, belongs: Belonging, evidence: Evidence, on: date) -> Evaluation | None:
    return None if version.rule is None else evaluate(version.rule, subject, belongs, evidence, on)


def _choices(look: Applied, evidence: Evidence) -> tuple[dict[Leaf, tuple[Possible, ...]], bool]:
    """The undecided choices that were read more than once, as many as fit the limit, in an order that does not depend
    on the file; and whether some did not fit.
    """
    counted: Counter[Leaf] = Counter()
    for read in (read for judged in look.everything for read in judged.reads):
        # A derivation that rests on several leaves may have read each of them more than once.
        counted.update({leaf: 2 if len(read) > 1 else 1 for leaf in read})
    chosen: dict[Leaf, tuple[Possible, ...]] = {}
    branches, cut = 1, False
    for leaf in sorted(counted, key=lambda each: each.order):
        if leaf.ask is not Ask.FACT or counted[leaf] < 2:
            continue
        alternatives = evidence.known(leaf.subject, leaf.name).value.alternatives(LEAF_LIMIT)
        if alternatives is None or len(alternatives) < 2:
            continue
        if branches * len(alternatives) > BRANCH_LIMIT:
            cut = True
            break
        branches *= len(alternatives)
        chosen[leaf] = alternatives
    return chosen, cut


def _branches(choices: Mapping[Leaf, tuple[Possible, ...]]) -> Iterator[dict[Leaf, Possible]]:
    for values in product(*choices.values()):
        yield dict(zip(choices, values, strict=True))


def applied(
    rule: RuleInForce, subject: Subject, belongs: Judged, evidence: Evidence, on: date, numbers: Numbers
) -> Applied:
    """One look at a rule, without branching."""
    judge, place, body = Judge(evidence, numbers, on), Place(subject, subject), rule.rule
    when = judge.condition(body.when, place)
    applies = all_of((belongs.truth, when.truth))
    exceptions = {each.id: judge.condition(each.condition, place) for each in body.unless}
    excepted = any_of(each.truth for each in exceptions.values())
    miss = miss_of(body)
    requires: Judged | None = None
    parts: Mapping[str, Judged] = {}
    any_way, instead = False, None
    readings: dict[str, Judged] = {}
    if body.look is not None:
        possible = outcomes_of_look(applies, excepted)
    elif body.readings:
        readings = {each.name: judge.requires(each.requires, place)[0] for each in body.readings}
        possible = outcomes_of_readings(applies, excepted, (each.truth for each in readings.values()), miss)
    else:
        requires, parts, any_way, instead = _required(judge, place, rule)
        possible = possible_outcomes(applies, excepted, requires.truth, miss)
    return Applied(possible, belongs, when, exceptions, requires, parts, any_way, instead, readings)


def _required(judge: Judge, place: Place, rule: RuleInForce) -> tuple[Judged, Mapping[str, Judged], bool, str | None]:
    """The requirement that stands: the first replacement whose condition holds, otherwise the rule's own. While a
    condition is open both what it brings and what comes after it are possible.
    """
    body = rule.rule
    assert body.requires is not None
    doubtful: list[Judged] = []
    reads: list[frozenset[Leaf]] = []
    for each in body.instead:
        condition = judge.condition(each.condition, place)
        reads += condition.reads
        if condition.truth is Truth.NO:
            continue
        whole, parts = judge.requires(each.requires, place)
        if condition.truth is Truth.YES:
            return _merged([*doubtful, whole], reads), parts, each.requires.any_way, each.id
        doubtful.append(Judged(whole.truth, (*condition.comparisons, *whole.comparisons), whole.reads))
    own, parts = judge.requires(body.requires, place)
    return _merged([*doubtful, own], reads), parts, body.requires.any_way, None


def _merged(possible: list[Judged], reads: list[frozenset[Leaf]]) -> Judged:
    """What holds when any one of several requirements may be the one that stands."""
    truth = from_ways(
        can_hold=any(each.truth is not Truth.NO for each in possible),
        can_fail=any(each.truth is not Truth.YES for each in possible),
    )
    comparisons = tuple(comparison for each in possible for comparison in each.comparisons)
    return Judged(truth, comparisons, (*reads, *(read for each in possible for read in each.reads)))

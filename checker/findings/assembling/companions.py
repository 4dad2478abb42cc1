"""What goes with a cure, as far as it has anything to say at this site."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from checker.facts.known import Leaf
from checker.findings.finding import Finding
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import Evaluation
from checker.findings.judging.outcomes import Outcome


@dataclass(frozen=True, slots=True)
class Read:
    """What conditions rest on: leaves, and lists by their names. A list that is complete and empty has no leaf, and a
    cure may still put something on it.
    """

    leaves: frozenset[Leaf] = frozenset()
    lists: frozenset[str] = frozenset()

    def touches(self, other: Read) -> bool:
        """Whether a change of one may change the other."""
        return not (self.leaves.isdisjoint(other.leaves) and self.lists.isdisjoint(other.lists))


NOTHING_READ = Read()


@dataclass(frozen=True, slots=True)
class Assembled:
    """A finding, and all that was read for it: ``scope`` decides whether its rule applies, ``asked`` is what the
    rule requires, which its cures change.
    """

    finding: Finding
    scope: Read = NOTHING_READ
    asked: Read = NOTHING_READ

    @property
    def leaves(self) -> frozenset[Leaf]:
        """All that was read."""
        return self.scope.leaves | self.asked.leaves


def assembled(finding: Finding, evaluation: Evaluation) -> Assembled:
    """A finding with what its evaluation read, in every look at it."""
    looks = evaluation.looks
    scope = (each for look in looks for each in (look.belongs, look.when, *look.exceptions.values()))
    asked = (each for look in looks for each in (look.requires, *look.readings.values()) if each is not None)
    return Assembled(finding, _read(scope), _read(asked))


def _read(judged: Iterable[Judged]) -> Read:
    listed = tuple(judged)
    sides = (comparison.found for each in listed for comparison in each.comparisons)
    lists = frozenset(side.label for side in sides if side.subject is None and side.fact is None)
    return Read(frozenset().union(*(each.leaves for each in listed)), lists)


def with_companions_that_apply(listed: Sequence[Assembled]) -> tuple[Finding, ...]:
    """The same findings without companions that apply nowhere at this site. One that the cure may bring about stays:
    whether it applies rests on something that the rule to be cured asks for.
    """
    by_title: dict[str, list[Assembled]] = {}
    for each in listed:
        by_title.setdefault(each.finding.title, []).append(each)

    def may_apply(title: str, beside: Assembled) -> bool:
        return _may_apply(by_title.get(title, ()), beside)

    return tuple(
        replace(each.finding, companions=tuple(title for title in each.finding.companions if may_apply(title, each)))
        for each in listed
    )


def _may_apply(companion: Iterable[Assembled], beside: Assembled) -> bool:
    """One that has no subject yet may get one by the cure."""
    judged = tuple(companion)
    return not judged or any(
        each.finding.outcome is not Outcome.NOT_APPLICABLE or each.scope.touches(beside.asked) for each in judged
    )

"""Whether the cases and edges of a rule see that it was changed, and whether a change changes anything."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from random import Random

from checker.catalog.model import Catalog
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import evaluate
from checker.rules.cases.model import Case
from checker.rules.cases.read import read_cases
from checker.rules.edition import pack_in_edition
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.vocabulary import Vocabulary
from checker.tasks.testing.case_evidence import SUBJECT, CaseEvidence
from checker.tasks.testing.cases import NOT_IN_FORCE, USUAL_DATE, run_cases
from checker.tasks.testing.edge_files import kept_edges
from checker.tasks.testing.edges import Edge, edges_of, run_edges
from checker.values.truth import Truth
from tests.rules_quality.evidence import Draw
from tests.rules_quality.mutants import Mutant, mutants_of

TRIES = 400
"""Sets of facts on which a mutant that no case saw is compared with the rule."""

BROKE = "broke"


@dataclass(frozen=True, slots=True)
class Survivor:
    """A mutant that answers otherwise somewhere, and that no case and no edge saw."""

    mutant: Mutant
    shown_by: str

    def __str__(self) -> str:
        return f"{self.mutant.rule}: {self.mutant.what}; differs {self.shown_by}"


@dataclass(frozen=True, slots=True)
class Tally:
    """What became of the mutants of one pack: caught, survived, and those that change nothing."""

    caught: int
    survivors: tuple[Survivor, ...]
    unchanged: tuple[Mutant, ...]

    @property
    def rate(self) -> float:
        """Part of the mutants that change anything which was caught."""
        changing = self.caught + len(self.survivors)
        return self.caught / changing if changing else 1.0


class RuleBench:
    """One rule with its cases, its edges, and evidence drawn for it."""

    def __init__(
        self, rule: Rule, pack: Pack, cases: tuple[Case, ...], edges: tuple[Edge, ...], catalog: Catalog
    ) -> None:
        self._rule = rule
        self._pack = pack
        self._cases = cases
        self._edges = edges
        self._catalog = catalog
        self._vocabulary = Vocabulary(catalog)
        self._answers: dict[tuple[str | None, int], str] = {}

    def mutants(self) -> Iterator[Mutant]:
        """Every mutant of the rule."""
        return mutants_of(self._rule, self._pack, self._vocabulary)

    def is_caught(self, mutant: Mutant) -> bool:
        """Whether some case or edge comes out otherwise; a rule that breaks is seen by everybody."""
        try:
            return any(not each.holds for each in run_cases(mutant.pack, self._cases, self._catalog)) or any(
                not each.holds for each in run_edges(mutant.pack, self._cases, self._edges, self._catalog)
            )
        except (LookupError, AssertionError, ValueError, TypeError):
            return True

    def difference(self, mutant: Mutant) -> str | None:
        """Facts on which the mutant answers otherwise, and how; None where none were found."""
        changed, rules = self._in_force(mutant.pack), self._unchanged
        editions = [each for each in self._pack.editions or (None,) if changed.get(each) != rules.get(each)]
        for place, evidence in enumerate(self._evidence if editions else ()):
            for edition in editions:
                before, after = self._answer(edition, place), _outcome(changed.get(edition), evidence)
                if after != before:
                    facts = ", ".join(f"{name}: {value.value}" for name, value in evidence.given.values.items())
                    where = f"in {edition} " if edition else ""
                    return f"{where}{before} -> {after} on {facts} and {evidence.given.lists}"
        return None

    @cached_property
    def _evidence(self) -> tuple[CaseEvidence, ...]:
        draw = Draw(self._rule, self._pack, self._cases, self._vocabulary, Random(self._rule.id))
        return tuple(draw.evidence() for _ in range(TRIES))

    @cached_property
    def _unchanged(self) -> dict[str | None, RuleInForce]:
        return self._in_force(self._pack)

    def _answer(self, edition: str | None, place: int) -> str:
        """What the rule itself answers on one of the sets of facts, worked out once."""
        known = self._answers.get((edition, place))
        if known is None:
            known = _outcome(self._unchanged.get(edition), self._evidence[place])
            self._answers[edition, place] = known
        return known

    def _in_force(self, pack: Pack) -> dict[str | None, RuleInForce]:
        return {
            edition: rule
            for edition in pack.editions or (None,)
            for rule in pack_in_edition(pack, edition, "")
            if rule.rule.id == self._rule.id
        }


def _outcome(rule: RuleInForce | None, evidence: CaseEvidence) -> str:
    if rule is None:
        return NOT_IN_FORCE
    try:
        return evaluate(rule, SUBJECT, lambda _: Judged(Truth.YES), evidence, USUAL_DATE).outcome.value
    except (LookupError, AssertionError, ValueError, TypeError):
        return BROKE


def benches(pack: Pack, catalog: Catalog) -> Iterator[RuleBench]:
    """Each rule of a pack with what is kept for it; where no edges are, they are worked out from the rules as they
    stand.
    """
    cases = read_cases(pack, catalog)
    edges = kept_edges(pack) or edges_of(pack, cases, catalog)
    for rule in pack.rules:
        own = tuple(case for case in cases if case.rule == rule.id)
        yield RuleBench(rule, pack, own, tuple(edge for edge in edges if edge.rule == rule.id), catalog)


def tally(pack: Pack, catalog: Catalog, *, every: int = 1) -> Tally:
    """What became of every mutant of a pack, or of each so-many-th one."""
    caught, survivors, unchanged = 0, [], []
    for bench in benches(pack, catalog):
        for mutant in list(bench.mutants())[::every]:
            if bench.is_caught(mutant):
                caught += 1
                continue
            difference = bench.difference(mutant)
            if difference is None:
                unchanged.append(mutant)
            else:
                survivors.append(Survivor(mutant, difference))
    return Tally(caught, tuple(survivors), tuple(unchanged))

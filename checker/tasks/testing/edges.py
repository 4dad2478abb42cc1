"""Cases at the limit: for each number that decides a rule, what comes out exactly there and just beside it.

They are worked out from the cases that people wrote, shown once to a person, and kept beside the pack with the name
of who looked. From then on they are run like any case, so that a limit cannot move without somebody seeing it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.wording import one_number
from checker.facts.known import Ask, Leaf
from checker.findings.assembling.naming import plain_number
from checker.findings.assembling.texts import path_of
from checker.findings.judging.conditions import Comparison, Judged
from checker.findings.judging.evaluation import evaluate
from checker.rules.cases.model import Case
from checker.rules.edition import all_interim, pack_in_edition
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.vocabulary import Vocabulary
from checker.site.model import Subject
from checker.tasks.testing.case_evidence import MEMBER, SUBJECT, CaseEvidence
from checker.tasks.testing.cases import USUAL_DATE
from checker.values.possible import number
from checker.values.truth import Truth
from checker.values.wire_sizes import SIZES

_ORDERED = frozenset({"at_least", "at_most", "more_than", "less_than", "between", "before", "on_or_after", "is"})

NEARBY = Fraction(1, 1000)
"""How far beside a limit it is looked, as a part of the limit."""


@dataclass(frozen=True, slots=True)
class Edge:
    """What a rule answers on one case when one number is at a limit or just beside it. ``where`` is empty for the
    subject of the case, otherwise the member; ``exact`` is the number in the base unit, ``shown`` the same for a
    reader.
    """

    rule: str
    edition: str | None
    case: str
    where: str
    fact: str
    exact: str
    shown: str
    outcome: str

    @property
    def key(self) -> tuple[str, str | None, str, str, str, str]:
        """What the edge is about, without its answer."""
        return (self.rule, self.edition, self.case, self.where, self.fact, self.exact)


@dataclass(frozen=True, slots=True)
class EdgeResult:
    """An edge that was kept, and what comes out now; None where its case or rule is gone."""

    edge: Edge
    found: str | None

    @property
    def holds(self) -> bool:
        """Whether the answer is still the one that was kept."""
        return self.found == self.edge.outcome


@dataclass(frozen=True, slots=True)
class _Bench:
    """One case of one rule in one edition, ready to be judged again and again."""

    rule: RuleInForce
    case: Case
    evidence: CaseEvidence

    def outcome(self, leaf: Leaf, value: Fraction) -> str:
        evidence = self.evidence.pinned({leaf: number(value)})
        return evaluate(self.rule, SUBJECT, _belongs, evidence, self.case.date or USUAL_DATE).outcome.value

    def comparisons(self) -> Iterator[Comparison]:
        look = evaluate(self.rule, SUBJECT, _belongs, self.evidence, self.case.date or USUAL_DATE).look
        for judged in look.everything:
            yield from judged.comparisons


def _belongs(_: object) -> Judged:
    return Judged(Truth.YES)


def _benches(pack: Pack, cases: tuple[Case, ...], catalog: Catalog) -> Iterator[_Bench]:
    vocabulary = Vocabulary(catalog)
    for edition in pack.editions or (None,):
        rules = {each.rule.id: each for each in pack_in_edition(pack, edition, "", all_interim(pack, edition))}
        for case in cases:
            rule = rules.get(case.rule)
            if rule is not None and case.site is None and edition in (case.editions or (None,)):
                types = vocabulary.types_of(rule.rule.subject)
                yield _Bench(rule, case, CaseEvidence(vocabulary, types, case.given))


def edges_of(pack: Pack, cases: tuple[Case, ...], catalog: Catalog) -> tuple[Edge, ...]:
    """Every limit at which the answer of some case turns: the edges at it and on both sides, once for each limit."""
    found: dict[tuple[str, str | None, str, str], tuple[Edge, ...]] = {}
    for bench in _benches(pack, cases, catalog):
        for comparison in bench.comparisons():
            for leaf, fact, limit, source in _limits(comparison, bench.rule, catalog):
                key = (bench.rule.rule.id, bench.rule.edition, leaf.name, f"{comparison.relation} {source}")
                if key not in found:
                    edges = tuple(_around(bench, leaf, fact, limit, comparison.found.known.unit))
                    if len({edge.outcome for edge in edges}) > 1:
                        found[key] = edges
    order = {rule.id: place for place, rule in enumerate(pack.rules)}
    unique = {edge.key: edge for edges in found.values() for edge in edges}
    return tuple(sorted(unique.values(), key=lambda edge: order[edge.rule]))


def _limits(comparison: Comparison, rule: RuleInForce, catalog: Catalog) -> Iterator[tuple[Leaf, Fact, Fraction, str]]:
    """The number of a case that was compared, each exact number that it was compared with, and what that number is.

    Every row of a table is a limit of its own; another fact is one limit, whatever its value in the case.
    """
    tables = {name.replace("-", " ") for name in rule.tables}
    leaf = _compared_leaf(comparison)
    if leaf is None or comparison.relation not in _ORDERED:
        return
    fact = catalog.facts[path_of(leaf.name).name]
    for wanted in comparison.wanted:
        limit = wanted.known.value.number
        if fact.type.is_ordered and limit is not None:
            yield leaf, fact, limit, f"{wanted.label} {limit if wanted.label in tables else ''}"


def _compared_leaf(comparison: Comparison) -> Leaf | None:
    leaves = [leaf for leaf in comparison.found.known.leaves if leaf.ask is Ask.FACT]
    return leaves[0] if len(leaves) == 1 and comparison.found.fact is not None else None


def _around(bench: _Bench, leaf: Leaf, fact: Fact, limit: Fraction, unit: str | None) -> Iterator[Edge]:
    for value in _neighbors(fact, limit):
        where = "" if leaf.subject == SUBJECT else leaf.subject.id
        yield Edge(
            bench.rule.rule.id,
            bench.rule.edition,
            bench.case.shows,
            where,
            leaf.name,
            plain_number(value),
            one_number(fact, value, unit),
            bench.outcome(leaf, value),
        )


def _neighbors(fact: Fact, limit: Fraction) -> tuple[Fraction, ...]:
    if fact.type is ValueType.WIRE_SIZE:
        areas = sorted(size.circular_mils for size in SIZES.values())
        place = areas.index(limit) if limit in areas else None
        return (limit,) if place is None else tuple(areas[max(place - 1, 0) : place + 2])
    step = limit * NEARBY if fact.type is ValueType.QUANTITY else Fraction(1)
    return (limit - step, limit, limit + step) if step else (limit,)


def run_edges(pack: Pack, cases: tuple[Case, ...], kept: tuple[Edge, ...], catalog: Catalog) -> Iterator[EdgeResult]:
    """Every kept edge with what comes out now."""
    benches = {(each.rule.rule.id, each.rule.edition, each.case.shows): each for each in _benches(pack, cases, catalog)}
    for edge in kept:
        bench = benches.get((edge.rule, edge.edition, edge.case))
        yield EdgeResult(edge, None if bench is None else _found(bench, edge))


def _found(bench: _Bench, edge: Edge) -> str:
    subject = Subject(MEMBER, edge.where) if edge.where else SUBJECT
    return bench.outcome(Leaf(subject, edge.fact), Fraction(edge.exact))


def edge_file(pack: Pack, rules_file: str) -> Path:
    """Where the edges of the rules of one file are kept."""
    return Path(pack.folder) / "edges" / rules_file


def by_file(pack: Pack, edges: tuple[Edge, ...]) -> Mapping[str, tuple[Edge, ...]]:
    """The edges by the name of the file in which their rules stand."""
    files = {rule.id: rule.at.file.rpartition("/")[2] for rule in pack.rules}
    grouped: dict[str, list[Edge]] = {}
    for edge in edges:
        grouped.setdefault(files[edge.rule], []).append(edge)
    return {name: tuple(group) for name, group in grouped.items()}

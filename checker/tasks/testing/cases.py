"""Runs the cases beside the rules: each in every edition in which its rule exists, on given facts or on a site file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.catalog.model import Catalog
from checker.facts.known import Leaf
from checker.findings.assembling.assembly import checks_of
from checker.findings.assembling.naming import subject_name
from checker.findings.assembling.needs import open_leaves
from checker.findings.assembling.texts import RuleTexts, rule_texts
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import Evaluation, evaluate
from checker.findings.judging.evidence import Evidence, SiteEvidence
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import subjects_of
from checker.findings.review import view_of
from checker.rules.cases.model import Case
from checker.rules.edition import all_interim, numbers_in_edition, pack_in_edition
from checker.rules.model.in_force import NO_NUMBERS, NumbersInForce, RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.vocabulary import Vocabulary
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.testing.case_evidence import SUBJECT, CaseEvidence
from checker.values.truth import Truth

NOT_IN_FORCE = "not_in_force"

USUAL_DATE = date(2026, 1, 1)
"""The day on which a case runs that names none; it only matters to rules that look at the age of something."""


@dataclass(frozen=True, slots=True)
class CaseResult:
    """One case in one edition, what was not as expected (nothing when the case holds), and what came out."""

    case: Case
    edition: str | None
    complaints: tuple[str, ...]
    outcome: str = ""

    @property
    def holds(self) -> bool:
        """Whether the rule answered as the case says."""
        return not self.complaints


@dataclass(frozen=True, slots=True)
class Answer:
    """What a rule came to on a case. There are no texts where there is no rule or no such subject."""

    outcome: str
    could_be: frozenset[str]
    needs: frozenset[str]
    texts: RuleTexts | None = None


def run_cases(pack: Pack, cases: tuple[Case, ...], catalog: Catalog) -> Iterator[CaseResult]:
    """Every case of a pack in each of its editions, in the order of the files."""
    vocabulary = Vocabulary(catalog)
    in_force: dict[tuple[str | None, str], RuleInForce] = {}
    for edition in pack.editions or (None,):
        for rule in pack_in_edition(pack, edition, "", all_interim(pack, edition)):
            in_force[(edition, rule.rule.id)] = rule
    numbers = {edition: numbers_in_edition(pack, edition) for edition in pack.editions or (None,)}
    for case in cases:
        for edition in case.editions or (None,):
            asked = in_force.get((edition, case.rule))
            found = answer(case, asked, Path(pack.folder), vocabulary, numbers[edition])
            yield CaseResult(case, edition, complaints_of(case, found), found.outcome)


def answer(
    case: Case,
    rule: RuleInForce | None,
    folder: Path,
    vocabulary: Vocabulary,
    numbers: NumbersInForce = NO_NUMBERS,
) -> Answer:
    """What the rule answers on one case; a rule that is not there is not in force. Site files lie in the folder, and
    what is worked out on them takes these numbers.
    """
    if rule is None:
        return Answer(NOT_IN_FORCE, frozenset({NOT_IN_FORCE}), frozenset())
    if case.site is not None:
        return _on_site(case, rule, folder, vocabulary, numbers)
    evidence = CaseEvidence(vocabulary, vocabulary.types_of(rule.rule.subject), case.given)
    on = case.date or USUAL_DATE
    evaluation = evaluate(rule, SUBJECT, lambda _: Judged(Truth.YES), evidence, on)
    return _answered(_Judged(rule, SUBJECT, SUBJECT.id, evaluation, on), evidence, _leaf_name)


@dataclass(frozen=True, slots=True)
class _Judged:
    """A rule applied to a subject, and the words for the subject."""

    rule: RuleInForce
    subject: Subject
    words: str
    evaluation: Evaluation
    on: date


def _answered(judged: _Judged, evidence: Evidence, name_of: Callable[[Leaf], str]) -> Answer:
    evaluation = judged.evaluation
    waits = evaluation.outcome is Outcome.NEEDS_INFORMATION
    leaves = open_leaves(evaluation, evidence) if waits else ()
    checks = tuple(checks_of(evidence.catalog, evaluation.look))
    return Answer(
        evaluation.outcome.value,
        frozenset(outcome.value for outcome in evaluation.possible),
        frozenset(map(name_of, leaves)),
        rule_texts(judged.rule, judged.subject, judged.words, evaluation, evidence, checks, judged.on),
    )


def _leaf_name(leaf: Leaf) -> str:
    """A need as a case writes it: the name in the rule, behind the collection for a member."""
    at = leaf.subject.id
    return leaf.name if at == SUBJECT.id else f"{at.rpartition('/')[2].rpartition(' ')[0]}.{leaf.name}"


def _on_site(case: Case, rule: RuleInForce, folder: Path, vocabulary: Vocabulary, numbers: NumbersInForce) -> Answer:
    """A case about derivations or several pieces: everything comes from a site file beside the pack."""
    assert case.site is not None
    site = read_site(folder / case.site, vocabulary.catalog)
    view = view_of(site, vocabulary.catalog, numbers)
    for subject, belongs in subjects_of(rule.rule.subject, view):
        if subject.id == case.subject:
            evidence = SiteEvidence(view)
            on = case.date or USUAL_DATE
            evaluation = evaluate(rule, subject, belongs, evidence, on)
            judged = _Judged(rule, subject, subject_name(view, subject).words, evaluation, on)
            return _answered(judged, evidence, lambda leaf: f"{leaf.subject.id}.{leaf.name}")
    nowhere = Outcome.NOT_APPLICABLE.value
    return Answer(nowhere, frozenset({nowhere}), frozenset())


def complaints_of(case: Case, found: Answer) -> tuple[str, ...]:
    """What is not as the case says."""
    return tuple(_compared(case, found))


def _listed(names: Iterable[str]) -> str:
    return ", ".join(sorted(names)) or "nothing"


def _compared(case: Case, found: Answer) -> Iterator[str]:
    if found.outcome != case.outcome:
        yield f"came out as {found.outcome}, wanted {case.outcome}"
    if case.needs is not None and found.needs != frozenset(case.needs):
        yield f"needs {_listed(found.needs)}, wanted {_listed(case.needs)}"
    if case.could_be is not None and found.could_be != frozenset(case.could_be):
        yield f"could be {', '.join(sorted(found.could_be))}, wanted {', '.join(sorted(case.could_be))}"
    says = "" if found.texts is None else found.texts.says
    if case.says is not None and says != case.says:
        yield f"says: {says}"

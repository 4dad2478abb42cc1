"""Which rule answers which entry: by the `covers` of rules, and by what reviews of the example dwellings come to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import review
from checker.rules.model.pack import Pack
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from tests.coverage.entries import Entry
from tests.project.project_tree import ROOT
from tests.report.golden import PLACES, known_review, library_of_tests

FIXTURES = ROOT / "fixtures"
OTHER_EDITIONS = ("nec-2017", "nec-2023", "nec-2026")
"""The model code alone, by which the cottage is reviewed besides, for the rules of one edition."""
COTTAGE = "heron-cottage"
ALL_ADOPTED = date(2026, 10, 1)
"""A day on which every one of these editions is adopted."""
DWELLINGS = ("one_family_dwelling", "two_family_dwelling")
TELLING = (
    *(Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.AHJ_TO_DECIDE, Outcome.SPECIAL_PERMISSION, Outcome.NOTE),
    *(Outcome.NEEDS_INFORMATION, Outcome.MET, Outcome.VERIFY_IN_FIELD),
)
"""Outcomes of a rule that looked at something, what tells most first. A rule that does not apply answers nothing."""


@dataclass(frozen=True, slots=True)
class Fired:
    """A rule that covers something, in the example that tells most of it. ``where`` is empty where it never fired."""

    rule: str
    where: str
    outcome: Outcome | None
    asks_for_paper: bool
    looks: bool


@dataclass(frozen=True, slots=True)
class Answers:
    """The rules that cover each id, and the ids of all rules that are in force for a dwelling."""

    by_id: Mapping[str, tuple[Fired, ...]]
    in_force: frozenset[str]

    def of(self, entry: Entry) -> tuple[Fired, ...]:
        """The rules that cover this entry."""
        return self.by_id.get(entry.id, ())

    def fires(self, entry: Entry) -> bool:
        """Whether a rule that covers it fires in an example of a dwelling."""
        return any(each.where for each in self.of(entry))

    def by_paper_alone(self, entry: Entry) -> bool:
        """Whether nothing fires but rules that ask for a paper and what it shows."""
        return self.fires(entry) and all(each.asks_for_paper for each in self.of(entry) if each.where)

    def in_the_field_alone(self, entry: Entry) -> bool:
        """Whether nothing fires but rules by which somebody has to look."""
        return self.fires(entry) and all(each.looks for each in self.of(entry) if each.where)


def found_in_examples() -> Answers:
    """What the packs of the program and reviews of every example of a dwelling come to."""
    library = library_of_tests()
    jobs = {name: job_of(*each) for name, each in _examples(library)}
    in_force = frozenset(each.rule.id for job in jobs.values() for each in job.rules.rules)
    looked_at = {name: known_review(name) if name in PLACES else review(job) for name, job in jobs.items()}
    return answers(library.packs, looked_at, in_force)


def _examples(library: Library) -> Iterator[tuple[str, tuple[Path, Library, Overrides]]]:
    """Every example by what the page calls it."""
    for file in sorted(FIXTURES.glob("*/site.yaml")):
        if _is_dwelling(file):
            yield file.parent.name, (file, library, Overrides())
    for name in OTHER_EDITIONS:
        yield f"{COTTAGE} under {name}", (FIXTURES / COTTAGE / "site.yaml", library, Overrides(name, ALL_ADOPTED))


def answers(packs: Iterable[Pack], looked_at: Mapping[str, Review], in_force: frozenset[str]) -> Answers:
    """What packs and reviews come to. Layers of two towns may have rules of one name that cover different things."""
    firings: dict[tuple[str, tuple[str, ...]], list[tuple[int, str, Finding]]] = {
        (rule.id, rule.covers): [] for pack in packs for rule in pack.rules
    }
    for place, looked in looked_at.items():
        for finding in looked.findings:
            if finding.outcome in TELLING:
                told = (TELLING.index(finding.outcome), place, finding)
                firings.setdefault((finding.rule, finding.covers), []).append(told)
    by_id: dict[str, list[Fired]] = {}
    for (rule, covers), found in sorted(firings.items(), key=lambda each: each[0]):
        for each in covers:
            by_id.setdefault(each, []).append(_fired(rule, found))
    return Answers({name: tuple(each) for name, each in by_id.items()}, in_force)


def unknown(known: Sequence[Entry], found: Answers) -> list[str]:
    """What rules say that they cover and no list has."""
    return sorted(set(found.by_id) - {each.id for each in known})


def never_in_force(known: Sequence[Entry], found: Answers) -> Iterator[tuple[str, str]]:
    """Entries that ask something of a dwelling, with a rule that covers them and is in force for no dwelling."""
    for entry in known:
        if entry.asked != "no":
            yield from ((entry.id, each.rule) for each in found.of(entry) if each.rule not in found.in_force)


def _is_dwelling(file: Path) -> bool:
    text = file.read_text(encoding="utf-8")
    return any(f"occupancy: {word}" in text for word in DWELLINGS)


def _fired(rule: str, firings: Sequence[tuple[int, str, Finding]]) -> Fired:
    if not firings:
        return Fired(rule, "", None, rule.startswith("packet-holds-"), looks=False)
    _, place, finding = min(firings, key=lambda each: each[:2])
    return Fired(rule, place, finding.outcome, rule.startswith("packet-holds-"), bool(finding.look))

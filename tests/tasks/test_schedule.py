"""What a schedule leaves reviews clean of what it covers, and what it turns down is corrected once it is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest

from checker.findings.assembling.naming import subject_name
from checker.findings.finding import Review
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import plan
from checker.findings.review import Job, review, view_of_job
from checker.rules.model.in_force import RulesInForce
from checker.site.model import Site, Stated, Thing
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.scheduling.model import Bound, Cell, Schedule, Value
from checker.tasks.scheduling.rows import Hanging, Rows, Section, read_rows
from checker.tasks.scheduling.schedule import schedule_of_job
from checker.values.possible import Possible, exactly, number
from tests.tasks.redrawing import NEUTRAL_BOND, redrawn

FIXTURES = Path(__file__).parents[2] / "fixtures"

SWITCH = (
    "rated_current",
    "rated_voltage",
    "poles",
    "neutral",
    "service_marking",
    "enclosure",
    "short_circuit_rating",
    "listed",
)
ROWS = Rows(
    (
        Section("Transfer switches", ("transfer_switch",), SWITCH, ("overcurrent.rated_current",)),
        Section(
            "Sets", ("generator",), ("neutral_bond", "frequency", "disconnect_lockable"), ("overcurrent.rated_current",)
        ),
        Section("Boards", ("panelboard",), ("neutral_bond", "rated_current"), ()),
        Section("Runs", ("connection",), ("grounding.size",), ()),
    ),
    (
        Hanging("neutral", "transfer_switch", ("neutral", "alternate.neutral_bond")),
        Hanging("rating", "transfer_switch", ("alternate/overcurrent.rated_current", "rated_current")),
        Hanging("metal", "connection", ("grounding.material", "grounding.size")),
    ),
)
SITES = ("heron-cottage", "harrow-lane")


@dataclass(frozen=True)
class Made:
    """A site with its schedule."""

    job: Job
    schedule: Schedule

    def ids(self, bound: Bound) -> set[str]:
        """The findings that the notes of a bound stand for."""
        return {each.finding.id for each in self.schedule.notes if each.number in bound.must_notes}

    def of_notes(self, notes: tuple[int, ...]) -> set[str]:
        return {each.finding.id for each in self.schedule.notes if each.number in notes}

    @property
    def covered(self) -> set[str]:
        """Every correction that some value of some cell brings about."""
        return {name for cell in self.cells() for name in self.ids(cell.bound)}

    def cells(self) -> Iterator[Cell]:
        for table in self.schedule.tables:
            for column in table.columns:
                yield from column.cells

    def cell(self, subject: str, fact: str) -> Cell:
        return next(each for each in self.cells() if (each.subject, each.fact) == (subject, fact))

    def corrected_with(self, *written: tuple[str, str, Possible]) -> set[str]:
        site = self.job.site
        for subject, fact, value in written:
            site = redrawn(view_of_job(self.job), site, subject, value) if fact == NEUTRAL_BOND else site
            site = _with(site, subject, fact, value)
        return _corrections(replace(self.job, site=site, rules=self._rules_of_notes))

    @property
    def _rules_of_notes(self) -> RulesInForce:
        """The rules that the schedule speaks of, so that a site is reviewed under them alone."""
        named = {each.finding.id.partition("@")[0] for each in self.schedule.notes}
        rules = self.job.rules
        return replace(rules, rules=tuple(each for each in rules.rules if each.id in named))


@cache
def made(place: str) -> Made:
    job = job_of(FIXTURES / place / "site.yaml", Library.shipped(), Overrides())
    return Made(job, schedule_of_job(job, ROWS))


@cache
def drawn(place: str) -> frozenset[str]:
    return frozenset(_corrections(made(place).job))


def _corrections(job: Job) -> set[str]:
    return _coming_to(Outcome.CORRECTION, job)


def _coming_to(outcome: Outcome, job: Job) -> set[str]:
    """The findings of an outcome, by their ids: as in a review, without the sentences that it makes of each."""
    view, on = view_of_job(job), job.rules.date
    judged = (
        (each, evaluate(each.rule, each.subject, each.belongs, SiteEvidence(view), on).outcome)
        for each in plan(job.rules, view)
    )
    return {f"{each.rule.id}@{subject_name(view, each.subject).known_as}" for each, found in judged if found is outcome}


@pytest.mark.parametrize("place", SITES)
@pytest.mark.parametrize("outcome", [Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NEEDS_INFORMATION])
def test_what_is_judged_here_is_what_a_review_comes_to(outcome: Outcome, place: str) -> None:
    job = made(place).job
    assert _coming_to(outcome, job) == {each.id for each in _reviewed(place).findings if each.outcome is outcome}


@cache
def _reviewed(place: str) -> Review:
    return review(made(place).job)


def _with(site: Site, subject: str, fact: str, value: Possible) -> Site:
    """The same site with one fact written; of a part that is not there, its whole is there then."""
    owner = next(each for each in site.things if each.id == subject)
    thing = site.things[owner]
    whole = fact.partition(".")[0]
    facts = {**thing.facts, fact: Stated(value, "written", thing.at)}
    if whole != fact and whole in thing.facts and thing.facts[whole].value.only_absent:
        facts[whole] = Stated(exactly(True), "written", thing.at)
    return replace(site, things={**site.things, owner: Thing(owner, thing.at, facts)})


def _owner(site: Site, name: str) -> tuple[str, str]:
    """The subject and the fact of a name; the id of a run has a dot of its own."""
    owner = max((each.id for each in site.things if name.startswith(f"{each.id}.")), key=len)
    return owner, name.removeprefix(f"{owner}.")


def _points(value: Value) -> list[Possible]:
    """A value itself; of a stretch a number inside."""
    return [
        number((span.low + span.high) / 2) if span.low is not None and span.high is not None else value.value
        for span in value.value.spans
    ] or [value.value]


@pytest.mark.parametrize("place", SITES)
def test_what_is_turned_down_is_corrected_and_what_stays_is_not(place: str) -> None:
    found = made(place)
    tried = 0
    for cell in found.cells():
        for value in cell.bound.values:
            for point in _points(value):
                after = found.corrected_with((cell.subject, cell.fact, point))
                told = f"{cell.subject}.{cell.fact} {value.text}"
                if value.stays:
                    assert not after & found.ids(cell.bound), told
                else:
                    assert found.of_notes(value.notes) <= after, told
                    assert value.notes, told
                tried += 1
    assert tried > 40


def test_on_a_site_on_which_nothing_is_wrong_whatever_stays_leaves_nothing_wrong() -> None:
    """Values of cells that do not hang on one another are put into the site together."""
    found = made("heron-cottage")
    assert not drawn("heron-cottage") & found.covered
    cells = [each for each in found.cells() if each.bound.must and not each.bound.nothing_left]
    alone: list[Cell] = []
    for cell in cells:
        if not any(set(cell.bound.must_notes) & set(each.bound.must_notes) for each in alone):
            alone.append(cell)
    assert len(alone) > 5
    for turn in range(6):
        written = [
            (cell.subject, cell.fact, _points(stays[turn % len(stays)])[0])
            for cell in alone
            if (stays := [each for each in cell.bound.values if each.stays])
        ]
        assert not found.corrected_with(*written) & found.covered


@pytest.mark.parametrize("place", SITES)
def test_combinations_come_out_as_they_say(place: str) -> None:
    found = made(place)
    assert found.schedule.together
    turned_down = 0
    for group in found.schedule.together:
        every = set().union(*(found.ids(each.bound) for each in group.combinations))
        *first, (subject, fact) = [_owner(found.job.site, name) for name in group.facts]
        for combination in group.combinations[:6]:
            for value in combination.bound.values[:8]:
                pins = zip(first, combination.values, strict=True)
                written = [(owner, name, given) for (owner, name), given in pins]
                after = found.corrected_with(*written, (subject, fact, _points(value)[0]))
                if value.stays:
                    assert not after & every
                else:
                    assert found.of_notes(value.notes) <= after
                    turned_down += 1
    assert turned_down


def test_the_switch_is_rated_for_the_breaker_ahead_of_it() -> None:
    """110.3(B) by the maker's instructions: no smaller than the 200 A device ahead. 240.6(A) has 200 A."""
    cell = made("heron-cottage").cell("ATS1", "rated_current")
    assert cell.bound.must == "at least 200 A; next standard size 200 A"
    assert cell.kept is True


def test_the_bond_past_the_service_is_to_be_taken_out() -> None:
    cell = made("harrow-lane").cell("P1", "neutral_bond")
    assert (cell.shown, cell.bound.must, cell.kept) == ("bonded", "floating", False)


def test_a_grounding_conductor_that_is_not_there_is_told_by_metal() -> None:
    """Table 250.122 at 200 A: 6 AWG copper or 4 AWG aluminum."""
    groups = {each.title: each for each in made("harrow-lane").schedule.together}
    by_metal = {each.given: each.bound.must for each in groups["ATS1 to P1: metal"].combinations}
    assert by_metal[("copper",)] == "at least 6 AWG"
    assert by_metal[("aluminum",)] == "at least 4 AWG"


PRACTICE_ROWS = Rows(
    (
        Section("Transfer switches", ("transfer_switch",), ("made_for_frequency", "contacts", "exercise_load"), ()),
        Section("Sets", ("generator",), ("charger_in", "charger_fed_from", "exercise_load", "exercise_days"), ()),
    ),
    (),
)
"""Facts of which nothing is possible before somebody says it; trade practice bounds them."""


@cache
def by_practice(file: Path) -> Made:
    job = job_of(file, Library.shipped(), Overrides())
    return Made(job, schedule_of_job(job, PRACTICE_ROWS))


@pytest.mark.parametrize(
    ("file", "subject", "fact", "better", "rule"),
    [
        (
            FIXTURES / "heron-cottage" / "site.yaml",
            "GEN1",
            "charger_in",
            "a charger in its own control or a charger in the transfer switch or a charger of its own",
            "starting-battery-charged-while-the-set-rests",
        ),
        (
            FIXTURES / "heron-cottage" / "site.yaml",
            "GEN1",
            "charger_fed_from",
            (
                "a circuit past the switch, live on both supplies or "
                "a circuit ahead of the switch, live on the normal supply"
            ),
            "starting-battery-charged-while-the-set-rests",
        ),
        (
            FIXTURES / "heron-cottage" / "site.yaml",
            "ATS1",
            "made_for_frequency",
            "60 Hz",
            "switch-made-for-the-frequency",
        ),
        (
            FIXTURES.parent / "rulesets" / "trade-practice" / "sites" / "contacts.yaml",
            "ATS2",
            "contacts",
            "with keeps loads off while the set carries",
            "load-kept-off-by-something-that-acts",
        ),
    ],
)
def test_what_has_to_be_said_is_told_though_nobody_has_said_it(
    file: Path, subject: str, fact: str, better: str, rule: str
) -> None:
    found = by_practice(file)
    cell = found.cell(subject, fact)
    assert cell.bound.better == better
    assert {name.partition(":")[2].partition("@")[0] for name in found.of_notes(cell.bound.better_notes)} == {rule}
    advised = {each.finding.id for each in found.schedule.notes if each.number in cell.bound.better_notes}
    kinds = {_advised_with(found.job, subject, fact, value.value) & advised != set() for value in cell.bound.values}
    assert kinds == {True, False}


def _advised_with(job: Job, subject: str, fact: str, value: Possible) -> set[str]:
    site = _with(job.site, subject, fact, _points_of(value))
    return _coming_to(Outcome.RECOMMENDATION, replace(job, site=site))


def _points_of(value: Possible) -> Possible:
    span = next(iter(value.spans), None)
    return value if span is None or span.low is None or span.high is None else number((span.low + span.high) / 2)


def test_of_a_fact_with_many_choices_at_once_each_choice_is_told_alone() -> None:
    """The district of Cinder Vale allows exercise from Tuesday to Thursday; seven days make 127 sets of days."""
    found = by_practice(FIXTURES / "cinder-vale" / "site.yaml")
    cell = found.cell("GEN1", "exercise_days")
    assert cell.bound.must.startswith("Tuesday or Wednesday or Thursday")
    assert cell.kept is False
    assert any("exercise_days" in each for each in found.schedule.not_told)


def test_every_row_is_a_fact_of_its_kinds() -> None:
    """A name in the file that no kind has would never be told."""
    catalog = made("heron-cottage").job.catalog
    rows = read_rows()
    for section in rows.sections:
        for name in section.facts:
            assert any(catalog.fact(name, kind) for kind in section.kinds), name
        for name in section.ways:
            assert catalog.fact(name, "way"), name
    assert all(len(each.facts) > 1 for each in rows.together)

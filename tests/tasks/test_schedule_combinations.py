"""On every fixture that gives combinations: what is offered reviews clean of the corrections that the group covers once
it is written into the site, what is turned down does not, and nobody is told to order what no drawing could want.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from checker.findings.assembling.naming import subject_name
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import plan
from checker.findings.review import Job, view_of_job
from checker.report.schedule.words import asides_told, bound_words, combinations_told, turned_down_told
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.scheduling.model import Bound, Combination, Schedule, Together
from checker.tasks.scheduling.rows import Hanging, Rows, Section, read_rows
from checker.tasks.scheduling.schedule import schedule_of_job
from checker.values.possible import Possible
from tests.tasks.redrawing import NEUTRAL_BOND, redrawn, with_fact

FIXTURES = Path(__file__).parents[2] / "fixtures"
PLACES = tuple(sorted(each.name for each in FIXTURES.iterdir() if (each / "site.yaml").exists()))
ALL = read_rows()
NEUTRAL = Hanging("neutral", "transfer_switch", ("neutral", "poles", "alternate.neutral_bond"))
OF_NEUTRALS = replace(ALL, sections=(), together=(NEUTRAL,))


@cache
def job_at(place: str) -> Job:
    return job_of(FIXTURES / place / "site.yaml", Library.shipped(), Overrides())


@cache
def schedule_at(place: str, rows: Rows = OF_NEUTRALS) -> Schedule:
    return schedule_of_job(job_at(place), rows)


def corrections_with(place: str, schedule: Schedule, written: list[tuple[str, str, Possible]]) -> set[str]:
    """The findings of the rules that the schedule names that are corrections once some facts are written."""
    job = job_at(place)
    site = job.site
    for tag, fact, value in written:
        site = redrawn(view_of_job(job), site, tag, value) if fact == NEUTRAL_BOND else site
        site = with_fact(site, Subject(site.pieces[tag].type, tag), fact, value)
    named = {each.finding.id.partition("@")[0] for each in schedule.notes}
    rules = replace(job.rules, rules=tuple(each for each in job.rules.rules if each.id in named))
    view = view_of_job(replace(job, site=site, rules=rules))
    judged = (
        (each, evaluate(each.rule, each.subject, each.belongs, SiteEvidence(view), rules.date).outcome)
        for each in plan(rules, view)
    )
    return {
        f"{each.rule.id}@{subject_name(view, each.subject).known_as}"
        for each, found in judged
        if found is Outcome.CORRECTION
    }


def notes_of(schedule: Schedule, numbers: tuple[int, ...]) -> set[str]:
    return {each.finding.id for each in schedule.notes if each.number in numbers}


def covered(schedule: Schedule, group: Together) -> set[str]:
    """Every correction that some combination of a group is turned down for, or some value of its last fact."""
    numbers = {number for each in group.combinations for number in (*each.turned_down, *each.bound.must_notes)} | {
        number for each in group.combinations for value in each.bound.values for number in value.notes
    }
    return notes_of(schedule, tuple(numbers))


def written(group: Together, each: Combination, last: Possible) -> list[tuple[str, str, Possible]]:
    values = (*each.values, last)
    return [(*name.split(".", 1), value) for name, value in zip(group.facts, values, strict=True)]  # type: ignore[misc]


def offered(schedule: Schedule) -> Iterator[tuple[Together, Combination, Possible]]:
    """Each combination that is offered with each value that it leaves of the last fact, as far as rules bound it."""
    for group in schedule.together:
        for each in group.combinations:
            if each.is_offered:
                yield from ((group, each, value.value) for value in each.bound.values if value.stays)


@pytest.mark.parametrize("place", PLACES)
def test_what_is_offered_reviews_clean_of_what_the_group_covers(place: str) -> None:
    schedule = schedule_at(place)
    for group, each, last in offered(schedule):
        after = corrections_with(place, schedule, written(group, each, last))
        assert not after & covered(schedule, group), (each.given, last)


def test_most_fixtures_with_a_switch_give_combinations() -> None:
    given = [place for place in PLACES if next(offered(schedule_at(place)), None) is not None]
    assert len(given) >= 15


@pytest.mark.parametrize("place", ["crake-landing", "dunlin-terrace", "heron-cottage"])
def test_what_is_turned_down_is_corrected(place: str) -> None:
    schedule = schedule_at(place)
    tried = 0
    for group in schedule.together:
        for each in (combination for combination in group.combinations if combination.turned_down):
            for value in each.bound.values[:1]:
                after = corrections_with(place, schedule, written(group, each, value.value))
                assert after & notes_of(schedule, each.turned_down), each.given
                tried += 1
    assert tried


@pytest.mark.parametrize("place", PLACES)
def test_of_a_single_phase_no_more_poles_are_offered_than_it_has_conductors(place: str) -> None:
    """Two legs, and a third pole where the neutral is opened (trade practice, without a source)."""
    schedule = schedule_at(place)
    view = view_of_job(job_at(place))
    for group, each, _ in offered(schedule):
        tag = group.facts[0].partition(".")[0]
        switch = job_at(place).site.pieces[tag]
        utility = view.ground.drawing.utility_of(tag)
        if utility is None or each.as_shown:
            continue
        phases = view.read(view.ground.drawing.pieces[utility], "system.phases").number
        if phases == 1:
            opens = each.values[0].atom in ("switched", "overlapping")
            assert each.values[1].number == (3 if opens else 2), (switch.id, each.given)


def test_the_bond_of_the_set_goes_with_the_neutral_of_the_switch() -> None:
    """250.30(A): a bond at the set where the switch opens the neutral, none where it carries it solid (250.24(A)(5)),
    though the list of bonds is complete as drawn and has none there.
    """
    group = schedule_at("dunlin-terrace").together[0]
    told = {
        each.given: [words for words, _ in bound_words(each.bound)] for each in group.combinations if each.is_offered
    }
    assert told == {
        ("carried solid", "2"): ["floating"],
        ("switched", "3"): ["bonded"],
        ("switched with overlap", "3"): ["bonded"],
    }


def test_what_is_left_out_is_told_with_its_rules() -> None:
    schedule = schedule_at("dunlin-terrace")
    group = schedule.together[0]
    left = " ".join(words for words, _ in combinations_told(group))
    gone = list(turned_down_told(group))
    assert "no neutral is carried" not in left
    assert any("no neutral is carried" in words for words, _ in gone)
    assert all(words.startswith("turned down: ") and notes for words, notes in gone)
    assert "More than is wanted does no harm and is not listed." in list(asides_told(group))


# --- cells that would mislead whoever orders from them ---------------------------------------------------------------

CELLS = replace(
    ALL,
    sections=(
        Section("Transfer switches", ("transfer_switch",), ("operation", "rated_current"), ()),
        Section("Sets", ("generator",), ("system.phases", "neutral_bond"), ("overcurrent.rated_current",)),
        Section("Boards", ("panelboard",), ("neutral_bond",), ()),
    ),
    together=tuple(each for each in ALL.together if each.facts[0] == "alternate/overcurrent.rated_current"),
)


def bound_at(place: str, subject: str, fact: str) -> Bound:
    cells = (cell for table in schedule_at(place, CELLS).tables for column in table.columns for cell in column.cells)
    return next(cell.bound for cell in cells if (cell.subject, cell.fact) == (subject, fact))


def test_the_phases_of_the_utility_are_no_way_out_of_a_load() -> None:
    """The house of Crake Landing has one phase; two would halve the load of a leg, and no utility sells them there."""
    bound = bound_at("crake-landing", "GEN1", "system.phases")
    assert not bound.must
    assert not bound.undecided
    assert bound.elsewhere


def test_two_bonds_are_cured_at_the_set_and_never_at_the_service() -> None:
    """At Alder Rise set and service are bonded and the switch carries the neutral solid: the strap of the set comes out
    (250.24(A)(5)), and the main bonding jumper stays (250.24(B)).
    """
    assert bound_at("alder-rise", "GEN1", "neutral_bond").must == "floating"
    cells = (cell for table in schedule_at("alder-rise", CELLS).tables for each in table.columns for cell in each.cells)
    assert not [cell for cell in cells if (cell.subject, cell.fact) == ("P1", "neutral_bond") and cell.bound.must]


def test_transfer_by_hand_is_told_as_what_gives_up_what_the_owner_chose() -> None:
    said = [words for words, _ in bound_words(bound_at("crake-landing", "ATS1", "operation"))]
    assert said == ["only if you give up automatic: by hand or electric by push-button"]


def test_a_rating_does_not_settle_a_load_where_its_other_rules_turn_the_way_out_down() -> None:
    """A switch of less than 100 A would carry less load, and stands behind a breaker of 200 A (110.3(B))."""
    bound = bound_at("crake-landing", "ATS1", "rated_current")
    assert bound.must == "at least 200 A; next standard size 200 A"
    notes = schedule_at("crake-landing", CELLS)
    assert any(each.startswith("nfpa-70") and "carries-its-load" in each for each in notes_of(notes, bound.elsewhere))


@pytest.mark.parametrize(("place", "most"), [("dunlin-terrace", "70"), ("crake-landing", "100")])
def test_the_breaker_of_the_set_is_the_same_in_its_cell_and_in_the_combinations(place: str, most: str) -> None:
    """6 AWG copper of 65 A has 70 A at most, 4 AWG of 85 A or more 100 A (240.4(B), 240.6(A))."""
    schedule = schedule_at(place, CELLS)
    assert bound_at(place, "GEN1/1", "overcurrent.rated_current").must == f"at most {most} A"
    group = next(each for each in schedule.together if each.facts[0].startswith("GEN1/1"))
    told = {each.given[0] for each in group.combinations if each.is_offered}
    assert max(int(each.removesuffix(" A")) for each in told) == int(most)

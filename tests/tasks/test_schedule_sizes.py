"""Sizes of conductors in a schedule: what is open is never told as a size to pull, and a review agrees with the rest.

Expected sizes: NFPA 70 Table 310.16 (copper 3/0 AWG 200 A, aluminum 4/0 AWG 180 A at 75 °C), 240.4(B) with the
standard ratings of 240.6(A), and for a dwelling Table 310.12(A) (200 A: 2/0 AWG copper, 4/0 AWG aluminum).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Fact
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import Job, review
from checker.report.schedule.words import bound_words, combinations_told
from checker.site.model import Stated, Thing
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.scheduling.bench import Verdict
from checker.tasks.scheduling.model import Bound, Schedule, Together
from checker.tasks.scheduling.rows import Hanging, Rows, Section, read_rows
from checker.tasks.scheduling.schedule import schedule_of_job
from checker.tasks.scheduling.sizes import sizes_left
from checker.tasks.scheduling.trying import Tried
from checker.values.possible import ABSENT, Possible, number
from checker.values.wire_sizes import SIZES

SITE = """
site: {{name: Teal Cottage, stage: plan_review, occupancy: {occupancy}, work: [service_equipment_replaced]}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  M1: {{kind: meter, fed_from: UTIL}}
  D1: {{kind: disconnect, status: new, fed_from: M1, role: service_disconnect, rated_current: 200 A,
       ways: {{main: {{overcurrent: 200 A}}}}}}
  P1: {{kind: panelboard, fed_from: D1}}
{more}
runs:
  D1>P1: {run}
loads: {{complete: yes, list: [{{name: range, load_kind: cooking, load_power: 8 kVA, at: P1}}]}}
"""
RUN = "D1>P1"
ALL = read_rows()
ROWS = Rows(
    (Section("Runs", ("connection",), ("phase.size", "grounding.size"), ()),),
    (Hanging("metal", "connection", ("phase.material", "phase.size")),),
    ALL.figures,
    ALL.ordinary,
)
OPEN = "{}"
ANOTHER_BOARD = "  P2: {kind: panelboard, fed_from: D1}"


def job_with(folder: Path, *, occupancy: str = "one_family_dwelling", run: str = OPEN, more: str = "") -> Job:
    path = folder / "site.yaml"
    path.write_text(SITE.format(occupancy=occupancy, run=run, more=more), encoding="utf-8")
    job = job_of(path, Library.shipped(), Overrides("nec-2023", date(2026, 3, 14), None))
    about = tuple(each for each in job.rules.rules if each.rule.id in RULES)
    return replace(job, rules=replace(job.rules, rules=about))


RULES = (
    "conductors-protected-at-their-ampacity",
    "conductors-protected-on-every-supply",
    "small-conductors-within-their-limit",
    "equipment-grounding-conductor-size",
    "grounding-conductor-grows-with-the-phase-conductors",
)
"""Those that speak of a size; all others take long and change nothing here."""


MADE: dict[tuple[str, str, str], Schedule] = {}
"""Schedules by what was written, since each takes seconds."""


def made(folder: Path, *, occupancy: str = "one_family_dwelling", run: str = OPEN, more: str = "") -> Schedule:
    key = (occupancy, run, more)
    if key not in MADE:
        MADE[key] = schedule_of_job(job_with(folder, occupancy=occupancy, run=run, more=more), ROWS)
    return MADE[key]


def bound_of(schedule: Schedule, fact: str) -> Bound:
    cells = (cell for table in schedule.tables for column in table.columns for cell in column.cells)
    return next(cell.bound for cell in cells if (cell.subject, cell.fact) == (RUN, fact))


def by_metal(schedule: Schedule, title: str = "metal") -> dict[str, Bound]:
    group = next(each for each in schedule.together if each.title.startswith("D1") and each.title.endswith(title))
    return {each.given[0]: each.bound for each in group.combinations}


def said(bound: Bound) -> str:
    return "; ".join(words for words, _ in bound_words(bound))


def test_while_the_ampacity_is_open_no_size_reads_as_the_one_to_pull(tmp_path: Path) -> None:
    bound = bound_of(made(tmp_path), "phase.size")
    assert bound.must == ""
    assert bound.until[0] == "ampacity of the phase conductors"
    assert said(bound).startswith("open until shown: ampacity of the phase conductors")
    assert "8 AWG" not in said(bound)


@pytest.mark.parametrize(
    ("occupancy", "more", "copper", "aluminum"),
    [
        ("one_family_dwelling", "", "at least 2/0 AWG", "at least 4/0 AWG"),
        ("business", "", "at least 3/0 AWG", "at least 4/0 AWG"),
        ("one_family_dwelling", ANOTHER_BOARD, "at least 3/0 AWG", "at least 4/0 AWG"),
    ],
)
def test_by_the_tables_the_least_size_goes_by_the_device_ahead(
    occupancy: str, more: str, copper: str, aluminum: str, tmp_path: Path
) -> None:
    found = by_metal(made(tmp_path, occupancy=occupancy, more=more))
    for metal, least in (("copper", copper), ("aluminum", aluminum)):
        told = found[metal].by_the_tables
        assert told is not None
        assert told.must == least
    smaller = found["copper"].by_the_tables
    assert smaller is not None
    # Of one of two boards nobody can tell that it is the whole dwelling.
    assert ("carries the whole load of one dwelling unit" in smaller.until) == bool(more)


def test_the_ampacity_that_is_written_is_that_of_the_conductors_shown(tmp_path: Path) -> None:
    run = "{phase: 4/0 AWG aluminum, ampacity: 180 A, length: 40 ft, run_outdoors: no}"
    schedule = made(tmp_path, run=run)
    bound = bound_of(schedule, "phase.size")
    assert bound.must == "4/0 AWG as shown"
    assert said(bound).startswith("4/0 AWG as shown; other sizes open until shown")
    assert by_metal(schedule)["copper"].must == ""


def test_where_all_is_known_the_least_is_told(tmp_path: Path) -> None:
    run = (
        "{phase: 3/0 AWG copper THWN-2, terminals: 75 C, ambient: 86 F, above_roof: none, current_carrying: 3, "
        "length: 40 ft, run_outdoors: no, grounding: 4 AWG copper}"
    )
    schedule = made(tmp_path, run=run)
    bound = bound_of(schedule, "phase.size")
    assert (bound.must, bound.by_the_tables) == ("at least 2/0 AWG", None)
    metals = by_metal(schedule)
    assert metals["aluminum"].must == "at least 4/0 AWG"
    # Table 250.122 at 200 A: 6 AWG copper; the phase conductors are the smallest that carry 200 A in full.
    assert bound_of(schedule, "grounding.size").must == "at least 6 AWG"


def test_sizes_are_those_of_the_tables_of_ampacity(tmp_path: Path) -> None:
    """Table 310.16 begins with 14 AWG copper (18 and 16 AWG are no building wire) and 12 AWG aluminum."""
    found = by_metal(made(tmp_path))
    assert found["copper"].values[0].text == "14 AWG"
    assert found["aluminum"].values[0].text == "12 AWG"


@pytest.mark.parametrize("run", [OPEN, "{phase: 4/0 AWG aluminum, ampacity: 180 A, length: 40 ft, run_outdoors: no}"])
def test_a_review_corrects_exactly_the_sizes_that_are_turned_down(run: str, tmp_path: Path) -> None:
    job = job_with(tmp_path, run=run)
    schedule = made(tmp_path, run=run)
    bound = bound_of(schedule, "phase.size")
    notes = {each.number: each.finding.id for each in schedule.notes}
    assert any(not each.stays for each in bound.values)
    for value in bound.values:
        corrected = corrections_with(job, value.value)
        named = {notes[each] for each in value.notes}
        assert named <= corrected, value.text
        assert value.stays == (not named)
        if value.stays:
            assert not corrected & set(notes.values()) - {notes[each] for each in bound.larger_notes}, value.text


def corrections_with(job: Job, size: Possible) -> set[str]:
    """The corrections of the site with this size in the place of the one shown, without the figure of the latter."""
    owner = next(each for each in job.site.things if each.id == RUN)
    thing = job.site.things[owner]
    is_shown = "phase.size" in thing.facts and thing.facts["phase.size"].value == size
    kept = {name: stated for name, stated in thing.facts.items() if is_shown or name != "ampacity"}
    facts = {**kept, "phase.size": Stated(size, "written", thing.at)}
    site = replace(job.site, things={**job.site.things, owner: Thing(owner, thing.at, facts)})
    return {each.id for each in review(replace(job, site=site)).findings if each.outcome is Outcome.CORRECTION}


# --- what is left, by hand -------------------------------------------------------------------------------------------


def tried(**verdicts: tuple[set[int], set[int]]) -> list[Tried]:
    """Sizes by their gauge with the rules that correct and those that are open."""
    return [
        Tried(
            number(SIZES[f"{gauge.removeprefix('awg')} AWG"].circular_mils),
            Verdict(frozenset(bad), frozenset(), frozenset(wait)),
        )
        for gauge, (bad, wait) in verdicts.items()
    ]


def test_what_only_larger_sizes_bring_is_no_bound(size: Fact) -> None:
    left = sizes_left(size, tried(awg8=({1}, set()), awg6=(set(), set()), awg4=({2}, set())), ABSENT)
    assert (left.must, left.larger) == ("at least 6 AWG", "6 AWG")
    assert not left.open


def test_a_size_counts_as_the_least_only_where_nothing_is_open(size: Fact) -> None:
    left = sizes_left(size, tried(awg8=({1}, set()), awg6=(set(), {1}), awg4=(set(), set())), ABSENT)
    assert (left.must, left.undecided, left.never) == ("at least 4 AWG", "smaller sizes", "")
    none = sizes_left(size, tried(awg8=({1}, set()), awg6=(set(), {1}), awg4=(set(), {1})), ABSENT)
    assert (none.must, none.never, len(none.open)) == ("", "6 AWG", 2)


def test_what_is_open_whatever_the_size_is_no_matter_of_it(size: Fact) -> None:
    left = sizes_left(size, tried(awg8=({1}, {2}), awg6=(set(), {2}), awg4=(set(), {2})), ABSENT)
    assert (left.must, left.whatever) == ("at least 6 AWG", frozenset({2}))


@pytest.fixture
def size() -> Fact:
    return shipped_catalog().facts["phase.size"]


# --- combinations ----------------------------------------------------------------------------------------------------


def test_combinations_that_leave_the_same_are_told_once(tmp_path: Path) -> None:
    rows = replace(
        ROWS, together=(Hanging("metal", "connection", ("phase.material", "grounding.material", "phase.size")),)
    )
    group: Together = schedule_of_job(job_with(tmp_path, run="{grounding: 6 AWG copper}"), rows).together[0]
    told = dict(combinations_told(group))
    assert len(told) < len(group.combinations) == 9
    assert len(set(told.values())) == len(told)
    assert any("aluminum or copper-clad aluminum" in given for given in told)

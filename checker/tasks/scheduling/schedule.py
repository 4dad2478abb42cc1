"""The schedule of a site: for each fact of each piece what the rules in force leave of it, with the rules that do so.

A cell holds while everything else stays as shown. A stated fact is freed first. A value falls away where a mandatory
rule surely asks for a correction with it, and not where that is open. A rule that turns down every value of a fact is
not this fact's to settle, and bounds it not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.catalog.wording import value_text
from checker.facts.known import Leaf, Origin
from checker.findings.assembling.loads_of_sets import loads_of_sets
from checker.findings.assembling.naming import leaf_name, subject_name
from checker.findings.review import Job, in_force_of, site_name_of
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.scheduling.bench import Bench
from checker.tasks.scheduling.bounds import Bounds
from checker.tasks.scheduling.columns import leaves_of, row_title, subjects_of, title_of
from checker.tasks.scheduling.model import Cell, Column, Schedule, Table, Together
from checker.tasks.scheduling.noting import Notes
from checker.tasks.scheduling.rows import Hanging, Rows, Section, read_rows
from checker.tasks.scheduling.together import Combining
from checker.tasks.scheduling.trying import Trial
from checker.tasks.scheduling.verdicts import corrected_by, is_in, is_no_figure, keeps, stays
from checker.values.possible import Possible

Progress = Callable[[int, int], None]
"""Told after each fact, and each group of facts that hang together, how many of how many are tried."""

MOST_COLUMNS = 24
"""Pieces and runs of one table."""


def schedule_of(path: Path, library: Library, overrides: Overrides, progress: Progress | None = None) -> Schedule:
    """What each piece of a site must be. Raises Unreadable."""
    return schedule_of_job(job_of(path, library, overrides), read_rows(), progress)


def schedule_of_job(job: Job, rows: Rows, progress: Progress | None = None) -> Schedule:
    """What each piece of a site must be in these rows."""
    return _Maker(Bench(job, dict(rows.figures)), rows, progress).schedule()


class _Maker:
    """Puts a schedule together, cell by cell."""

    def __init__(self, bench: Bench, rows: Rows, progress: Progress | None) -> None:
        self._bench = bench
        self._rows = rows
        self._catalog: Catalog = bench.view.ground.catalog
        self._notes = Notes(bench)
        self._bounds = Bounds(bench, rows, self._notes)
        self._combining = Combining(bench, rows, self._bounds, self._notes)
        self._progress = progress
        self._done = self._of = 0
        self._limits: list[str] = []
        self._not_told: list[str] = []
        self._bounded: set[Leaf] = set()

    def schedule(self) -> Schedule:
        columns = [(section, list(self._columns(section))) for section in self._rows.sections]
        groups = list(self._combining.groups())
        self._of = sum(len(found) for _, listed in columns for _, _, found in listed) + len(groups)
        tables = tuple(
            Table(section.title, tuple(self._column(subject, title, found) for subject, title, found in listed))
            for section, listed in columns
        )
        job = self._bench.job
        return Schedule(
            site_name=site_name_of(job.site),
            file=job.site.file,
            digest=job.site.digest,
            in_force=in_force_of(job),
            tables=tuple(table for table in tables if any(column.cells for column in table.columns)),
            together=tuple(self._all_together(groups)),
            notes=self._notes.told,
            not_told=tuple(dict.fromkeys(self._not_told)),
            by_the_tables=self._rows.ordinary.says if self._bounds.is_by_the_tables else "",
            limits=tuple(self._limits),
            sets=loads_of_sets(self._bench.view, ()),
        )

    def _columns(self, section: Section) -> Iterator[tuple[Subject, str, tuple[Leaf, ...]]]:
        subjects = subjects_of(self._bench, section)
        if len(subjects) > MOST_COLUMNS:
            rest = len(subjects) - MOST_COLUMNS
            self._limits.append(f"{section.title}: {rest} more than {MOST_COLUMNS} columns are left out.")
        for subject in subjects[:MOST_COLUMNS]:
            leaves = tuple(leaves_of(self._bench, section, subject))
            yield subject, title_of(self._catalog, subject), leaves

    def _column(self, subject: Subject, title: str, leaves: tuple[Leaf, ...]) -> Column:
        cells = []
        for leaf in leaves:
            cell = self._cell(leaf)
            if cell is not None:
                cells.append(cell)
            self._tell()
        return Column(subject_name(self._bench.view, subject).words, title, tuple(cells))

    def _tell(self) -> None:
        self._done += 1
        if self._progress is not None:
            self._progress(self._done, self._of)

    def _cell(self, leaf: Leaf) -> Cell | None:
        """A fact that nothing is said of and that nothing bounds is no cell."""
        fact, known = self._catalog.facts[leaf.name], self._bench.view.known(leaf.subject, leaf.name)
        shown = "" if known.origin is Origin.NOT_SHOWN else value_text(fact, known.value, known.unit)
        trial = self._bounds.trial(leaf, {})
        if trial.cut:
            self._not_told.append(f"{leaf_name(leaf)}: {fact.title}")
        trial = self._as_supplied(leaf, trial, known.value) if shown else trial
        elsewhere = self._settled_elsewhere(leaf, trial, known.value) if shown else frozenset()
        bound = self._bounds.bound(leaf, fact, trial.without(elsewhere), {})
        bound = replace(
            bound, elsewhere=self._notes.of(leaf, {})(lambda each: corrected_by(each) & elsewhere, trial.tried)
        )
        is_given_up = leaf.name in self._rows.decisions and shown != "" and self._keeps_not(trial, known.value)
        bound = replace(bound, gives_up=shown) if is_given_up and not bound.nothing_left else bound
        if bound.must or bound.undecided_notes or bound.open:
            self._bounded.add(leaf)
        is_silent = not bound.says_something and not bound.larger
        if is_silent and (not shown or known.origin is Origin.DERIVED or is_no_figure(fact, known.value)):
            return None
        judged = known.value.is_exact and shown and not is_given_up
        kept = keeps(trial.without(elsewhere), known.value) if judged else None
        return Cell(
            leaf.subject.id,
            leaf.name,
            row_title(leaf, fact),
            shown,
            known.at,
            bound,
            kept,
            self._hanging(leaf, trial),
            self._bench.follows(leaf),
        )

    def _settled_elsewhere(self, leaf: Leaf, trial: Trial, shown: Possible) -> frozenset[int]:
        """The rules missed with what is shown that this fact is not the one to settle: where other rules turn down
        whatever would, and where the supply gives the fact.
        """
        mine = next((each for each in trial.tried if is_in(shown, each.value)), None)
        if mine is None or not (shown.is_exact and corrected_by(mine)):
            return frozenset()
        is_given = self._as_the_utility_has(leaf, shown)
        return corrected_by(mine) if is_given or not any(map(stays, trial.tried)) else frozenset()

    def _as_supplied(self, leaf: Leaf, trial: Trial, shown: Possible) -> Trial:
        """The same without what nothing turns down and the supply does not give."""
        if not self._as_the_utility_has(leaf, shown):
            return trial
        given = tuple(each for each in trial.tried if is_in(shown, each.value) or corrected_by(each))
        return Trial(given, trial.cut)

    def _as_the_utility_has(self, leaf: Leaf, shown: Possible) -> bool:
        """Whether the supply gives this fact, and what is shown is what it gives."""
        if leaf.name not in self._rows.of_the_supply:
            return False
        drawing = self._bench.view.ground.drawing
        utilities = (drawing.pieces[tag] for tag in drawing.of("utility_supply"))
        return any(self._bench.view.read(each, leaf.name) == shown for each in utilities)

    def _keeps_not(self, trial: Trial, shown: Possible) -> bool:
        return shown.is_exact and keeps(trial, shown) is False

    def _hanging(self, leaf: Leaf, trial: Trial) -> tuple[str, ...]:
        """Other facts of the schedule that the rules which bound this one read."""
        rules = frozenset().union(*(each.verdict.corrected for each in trial.tried))
        names = {name for section in self._rows.sections for name in (*section.facts, *section.ways)}
        read = frozenset().union(*(self._bench.read_by(index) for index in rules))
        others = sorted((each for each in read if each != leaf and each.name in names), key=lambda each: each.order)
        return tuple(leaf_name(each) for each in others)

    def _all_together(self, groups: Sequence[tuple[Hanging, Subject]]) -> Iterator[Together]:
        for hanging, subject in groups:
            found = self._combining.together(hanging, subject, self._bounded)
            if found is not None:
                yield found
            self._tell()

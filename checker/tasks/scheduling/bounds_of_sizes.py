"""What rules leave of a size of conductors, of which a bound is soon read as advice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from checker.catalog.model import Fact
from checker.catalog.reading.texts import read_text
from checker.facts.known import Leaf
from checker.tasks.scheduling.bench import Bench, Pins
from checker.tasks.scheduling.model import Bound, ByTheTables
from checker.tasks.scheduling.noting import Notes, values_told, waited_for
from checker.tasks.scheduling.rows import Rows
from checker.tasks.scheduling.sizes import SizesLeft, sizes_left
from checker.tasks.scheduling.trying import Trial, Tried, tried
from checker.tasks.scheduling.verdicts import corrected_by, is_smaller, open_to, stays
from checker.tasks.scheduling.words import NONE_LEFT, left_words
from checker.values.possible import ABSENT, Possible


class BoundsOfSizes:
    """Bounds of sizes of conductors on one bench."""

    def __init__(self, bench: Bench, rows: Rows, notes: Notes) -> None:
        self._bench = bench
        self._rows = rows
        self._notes = notes
        self._catalog = bench.view.ground.catalog
        self.is_by_the_tables = False
        """Whether anything was told that holds of an ordinary run."""

    def bound(self, leaf: Leaf, fact: Fact, trial: Trial, pins: Pins) -> Bound:
        """What a trial leaves in words, with its notes."""
        shown, notes = self._bench.view.read(leaf.subject, leaf.name), self._notes.of(leaf, pins)
        left = sizes_left(fact, trial.tried, shown)
        besides = left.whatever
        tables = self._by_the_tables(leaf, fact, pins, trial) if left.open or besides else None
        if self._is_no_least(leaf, left, tables):
            left = left.without_least
        elif left.undecided and not self._is_sure_as_shown(shown, left, trial):
            # A size that does whatever is open is far from one that is asked for.
            left = replace(left, must="", undecided="")
        stay = [each for each in trial.tried if stays(each)]
        better = self._better_size(fact, [each for each in stay if each not in (*left.open, *left.above)])
        told = None if tables is None or tables.must == left.must else self._told_by_the_tables(leaf, pins, tables)
        return Bound(
            must=left.must,
            must_notes=notes(corrected_by, left.turned_down) if left.must else (),
            undecided=left.undecided,
            undecided_notes=notes(lambda each: open_to(each) - left.whatever, left.open),
            better=better,
            better_notes=notes(lambda each: each.verdict.advised, stay) if better else (),
            open=notes(lambda each: open_to(each) & left.whatever, stay),
            brings=notes(lambda each: each.verdict.brings, stay),
            nothing_left=not stay,
            values=values_told(fact, trial, notes),
            until=waited_for(self._bench, leaf, pins, left.open or (() if left.must else stay)),
            never=left.never,
            by_the_tables=told,
            larger=left.larger,
            larger_notes=notes(lambda each: corrected_by(each) | (open_to(each) - besides), left.above),
        )

    def _is_no_least(self, leaf: Leaf, left: SizesLeft, tables: SizesLeft | None) -> bool:
        """Whether what is open whatever the size asks more even of an ordinary run, or is asked of this run and nobody
        can tell how much.
        """
        if tables is not None:
            return is_smaller(left.least, tables.least)
        return any(self._bench.planned[index].subject == leaf.subject for index in left.whatever)

    def _is_sure_as_shown(self, shown: Possible, left: SizesLeft, trial: Trial) -> bool:
        mine = next((each for each in trial.tried if each.value == shown), None)
        return mine is not None and stays(mine) and mine not in left.open

    def _better_size(self, fact: Fact, told: Sequence[Tried]) -> str:
        better = left_words(fact, told, lambda each: not each.verdict.advised, ()) if told else ""
        return "" if better == NONE_LEFT else better

    def _by_the_tables(self, leaf: Leaf, fact: Fact, pins: Pins, trial: Trial) -> SizesLeft | None:
        """What is left where this run is as most runs are, as far as the drawing leaves that open; None where that
        tells no size either.
        """
        ordinary = self._as_most_runs(leaf)
        if not ordinary:
            return None
        rules = frozenset().union(*(each.verdict.corrected | each.verdict.may_correct for each in trial.tried))
        found = tried(self._bench, leaf, {**ordinary, **pins}, sorted(rules))
        left = sizes_left(fact, found.tried, ABSENT)
        return None if left.must in ("", NONE_LEFT) else left

    def _told_by_the_tables(self, leaf: Leaf, pins: Pins, left: SizesLeft) -> ByTheTables:
        self.is_by_the_tables = True
        until = waited_for(self._bench, leaf, {**self._as_most_runs(leaf), **pins}, left.open)
        return ByTheTables(left.must, left.undecided, until)

    def _as_most_runs(self, leaf: Leaf) -> Pins:
        """What an ordinary run has, of what is open in this one, and its figures worked out; nothing for a conductor
        that has no ampacity.
        """
        whole = leaf.name.partition(".")[0]
        figures = [figure for figure, of in self._rows.figures if of == whole]
        worked_out = {Leaf(leaf.subject, each): self._catalog.facts[each].anything() for each in figures}
        return {**self._ordinary(leaf), **worked_out} if figures else {}

    def _ordinary(self, leaf: Leaf) -> Pins:
        """What an ordinary run has, of what is open in this one."""
        view, found = self._bench.view, {}
        for name, text in self._rows.ordinary.facts:
            fact = self._catalog.fact(name, leaf.subject.type)
            if fact is not None and not view.read(leaf.subject, name).is_exact:
                found[Leaf(leaf.subject, name)] = read_text(text, fact, may_be_none=fact.may_be_none).value
        return found

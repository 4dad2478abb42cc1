"""What the rules leave of one fact: a trial of its values, in words, with its notes."""

from __future__ import annotations

from functools import partial

from checker.catalog.model import Fact, ValueType
from checker.facts.conductors.numbers import STANDARD_DEVICES
from checker.facts.known import Leaf
from checker.tasks.scheduling.bench import Bench, Pins, there
from checker.tasks.scheduling.bounds_of_sizes import BoundsOfSizes
from checker.tasks.scheduling.model import Bound
from checker.tasks.scheduling.noting import Notes, values_told, waited_for
from checker.tasks.scheduling.rows import Rows
from checker.tasks.scheduling.trying import Trial, tried
from checker.tasks.scheduling.verdicts import (
    corrected_by,
    is_an_end,
    is_one_sided,
    is_sliver,
    open_to,
    stays,
    told_of,
)
from checker.tasks.scheduling.words import NONE_LEFT, left_words


class Bounds:
    """Trials and bounds on one bench, with notes that are numbered as they come."""

    def __init__(self, bench: Bench, rows: Rows, notes: Notes) -> None:
        self._bench = bench
        self._rows = rows
        self._notes = notes
        self._of_sizes = BoundsOfSizes(bench, rows, notes)
        self._catalog = bench.view.ground.catalog
        table = bench.job.rules.numbers.tables.get(STANDARD_DEVICES)
        rows_of = () if table is None else table.rows
        self.sizes = tuple(row.value.number for row in rows_of if row.value.number is not None)
        """Standard ratings of overcurrent devices (A)."""

    @property
    def is_by_the_tables(self) -> bool:
        """Whether anything was told that holds of an ordinary run."""
        return self._of_sizes.is_by_the_tables

    def trial(self, leaf: Leaf, pins: Pins, together: frozenset[Leaf] = frozenset()) -> Trial:
        """A fact tried alone, or with others pinned by the rules that ask something of it or read two of them."""
        free = {**pins, **there(self._bench.view, leaf), leaf: self._catalog.facts[leaf.name].anything_said()}
        rules = self._bench.turning(free)
        if leaf.name in self._rows.of_its_own and not together:
            rules = tuple(each for each in rules if self._bench.planned[each].subject == leaf.subject)
        if together:
            rules = tuple(each for each in rules if self.is_about(each, leaf, together))
        if not rules:
            return Trial(())
        found = tried(self._bench, leaf, pins, rules)
        return found if together else found.without(found.never_cured)

    def is_about(self, rule: int, leaf: Leaf, together: frozenset[Leaf]) -> bool:
        """Whether a rule asks something of a fact, or reads two of those that are tried together."""
        free = {**there(self._bench.view, leaf), leaf: self._catalog.facts[leaf.name].anything_said()}
        asked = self._bench.with_figures(free)
        return self._bench.asks_of(rule, asked) or len(self._bench.read_by(rule) & together) > 1

    def bound(self, leaf: Leaf, fact: Fact, trial: Trial, pins: Pins) -> Bound:
        """What a trial leaves in words, with its notes."""
        if not trial.tried:
            return Bound()
        if fact.type is ValueType.WIRE_SIZE:
            return self._of_sizes.bound(leaf, fact, trial, pins)
        sizes = self.sizes if fact.quantity == "load_current" else ()
        words = partial(left_words, fact, trial.tried, only_sizes=leaf.name in self._rows.by_size)
        left = [each for each in trial.tried if stays(each)]
        # Where nothing is turned down and nothing told apart, there is nothing to say but what is open.
        told = told_of(left) or (left if len(left) == len(trial.tried) else [])
        doubtful = frozenset(id(each) for each in left) - frozenset(id(each) for each in told)
        is_by_size = leaf.name in self._rows.by_size
        if doubtful and not is_one_sided(fact, trial, left, told):
            # What is sure would read as all that is asked: what is turned down is told, then what is open.
            must = words(stays, sizes if is_by_size else ())
            told = [each for each in told if not is_an_end(fact, each, trial) and not is_sliver(fact, each)]
        else:
            must = words(lambda each: stays(each) and id(each) not in doubtful, sizes)
        doubted = [each for each in left if id(each) in doubtful and not is_an_end(fact, each, trial)]
        undecided = words(lambda each: each in doubted, sizes if is_by_size else ()) if doubted and told else ""
        better = left_words(fact, told, lambda each: not each.verdict.advised, sizes) if told else ""
        if better == NONE_LEFT:
            better = ""
        notes = self._notes.of(leaf, pins)
        is_open = not must and not doubted
        return Bound(
            must=must,
            must_notes=notes(corrected_by, trial.tried) if must else (),
            undecided=undecided,
            undecided_notes=notes(open_to, doubted),
            better=better,
            better_notes=notes(lambda each: each.verdict.advised, told) if better else (),
            open=notes(open_to, told),
            brings=notes(lambda each: each.verdict.brings, left),
            nothing_left=not left,
            values=values_told(fact, trial, notes),
            until=waited_for(self._bench, leaf, pins, told if is_open else doubted),
        )

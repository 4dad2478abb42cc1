"""Facts that hang together, told combination by combination."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import replace
from itertools import product

from checker.catalog.model import Fact, ValueType
from checker.catalog.wording import value_text
from checker.facts.known import Leaf
from checker.findings.assembling.naming import leaf_name, subject_name
from checker.site.model import Subject
from checker.tasks.scheduling.bench import Bench, Pins, there
from checker.tasks.scheduling.bounds import Bounds
from checker.tasks.scheduling.columns import row_title
from checker.tasks.scheduling.combining import Group, leaves_something, marked_as_more, never_cured
from checker.tasks.scheduling.model import Combination, Together
from checker.tasks.scheduling.noting import Notes
from checker.tasks.scheduling.rows import Hanging, Rows
from checker.tasks.scheduling.trying import Trial, tried
from checker.tasks.scheduling.verdicts import corrected_by
from checker.values.possible import Possible, number

MOST_OF_A_GROUP = 24
"""Pieces or runs of which one group of facts is told."""

MOST_COMBINATIONS = 48
"""Combinations of one group of facts that hang together."""

SIZES_AROUND = 2
"""Standard sizes above and below what is shown that stand for a number in combinations."""

_SIDES = ("normal.", "alternate.")


class Combining:
    """Groups of facts on one bench."""

    def __init__(self, bench: Bench, rows: Rows, bounds: Bounds, notes: Notes) -> None:
        self._bench = bench
        self._rows = rows
        self._bounds = bounds
        self._notes = notes
        self._catalog = bench.view.ground.catalog

    def groups(self) -> Iterator[tuple[Hanging, Subject]]:
        """Every group of facts that hang together, with the piece or run that it is of."""
        drawing = self._bench.view.ground.drawing
        for hanging in self._rows.together:
            subjects = (
                [feed.subject for feed in drawing.feeds]
                if hanging.of == "connection"
                else [drawing.pieces[tag] for tag in drawing.of(hanging.of)]
            )
            yield from ((hanging, subject) for subject in subjects[:MOST_OF_A_GROUP])

    def together(self, hanging: Hanging, subject: Subject, bounded: Set[Leaf]) -> Together | None:
        """What is left of each combination; None where there is nothing to combine, or nothing that rules turn down.
        ``bounded`` are the facts that rules bound by themselves.
        """
        leaves = [self._leaf(subject, path) for path in hanging.facts]
        if any(leaf is None for leaf in leaves):
            return None
        *first, last = [leaf for leaf in leaves if leaf is not None]
        is_drawn = not there(self._bench.view, last)
        if subject.type == "connection" and is_drawn and last not in bounded:
            # Runs are many, and a size that nothing bounds in the metal shown is seldom bounded in another.
            return None
        group = Group(tuple(first), last, tuple(self._catalog.facts[leaf.name] for leaf in (*first, last)))
        listed = [self._standing_for(leaf, fact) for leaf, fact in zip(first, group.facts, strict=False)]
        if not all(listed):
            return None
        every = list(product(*listed))
        if len(every) == 1:
            # One combination of what is decided is what the cells tell.
            return None
        chosen = every[:MOST_COMBINATIONS]
        trials = [self._bounds.trial(last, self._pins(first, values), group.leaves) for values in chosen]
        never = never_cured(trials)
        trials = [trial.without(never) for trial in trials]
        if not any(each.verdict.corrected for trial in trials for each in trial.tried):
            return None
        alone = [self._of_the_first(group, self._pins(first, values)) for values in chosen]
        group = replace(
            group,
            elsewhere=frozenset() if any(map(leaves_something, trials)) else self._bench.missed_as_drawn,
            whatever=frozenset.intersection(*alone),
        )
        combinations = [
            self._combination(group, values, trial, corrected - group.whatever)
            for values, trial, corrected in zip(chosen, trials, alone, strict=True)
        ]
        return Together(
            f"{subject_name(self._bench.view, subject).words}: {hanging.title}",
            tuple(leaf_name(leaf) for leaf in (*first, last)),
            tuple(row_title(leaf, fact) for leaf, fact in zip((*first, last), group.facts, strict=True)),
            tuple(marked_as_more(combinations, first, self._rows.no_more)),
            len(every) - len(chosen),
        )

    def _of_the_first(self, group: Group, pins: Pins) -> frozenset[int]:
        """The rules that ask something of the first facts, whatever the last one is, and turn down what is pinned."""
        free = {leaf: self._catalog.facts[leaf.name].anything_said() for leaf in group.first}
        rules = self._bench.turning({**pins, **free})
        others = [each for each in rules if not self._bounds.is_about(each, group.last, group.leaves)]
        return self._bench.verdict(others, pins).corrected

    def _combination(
        self, group: Group, values: tuple[Possible, ...], trial: Trial, corrected: frozenset[int]
    ) -> Combination:
        pins, view = self._pins(group.first, values), self._bench.view
        left = trial.without(group.elsewhere)
        notes = self._notes.of(group.last, pins)
        bound = replace(
            self._bounds.bound(group.last, group.facts[-1], left, pins),
            elsewhere=notes(lambda each: corrected_by(each) & group.elsewhere, trial.tried),
        )
        turned_down = self._notes.numbers(tuple((index, pins) for index in sorted(corrected)))
        if not leaves_something(left):
            turned_down = tuple(sorted({*turned_down, *notes(corrected_by, left.tried)}))
        return Combination(
            tuple(value_text(fact, value) for fact, value in zip(group.facts, values, strict=False)),
            values,
            bound,
            all(view.read(each.subject, each.name) == value for each, value in zip(group.first, values, strict=True)),
            turned_down,
        )

    def _pins(self, leaves: Sequence[Leaf], values: Sequence[Possible]) -> Pins:
        found: dict[Leaf, Possible] = {}
        for leaf, value in zip(leaves, values, strict=True):
            found |= {**there(self._bench.view, leaf), leaf: value}
        return found

    def _leaf(self, subject: Subject, path: str) -> Leaf | None:
        """The fact at the end of a path of the file, where the drawing has what it leads to."""
        drawing = self._bench.view.ground.drawing
        side, of_way, name = path.partition("/")
        if not of_way:
            side, _, name = path.partition(".") if path.startswith(_SIDES) else ("", "", path)
        owner: Subject | None = subject
        if side:
            feed = drawing.into(subject.id, side)
            source = drawing.source_of(subject.id, side)
            owner = None if source is None else drawing.pieces[source]
            if of_way:
                owner = None if feed is None or feed.way is None else Subject("way", f"{feed.source}/{feed.way}")
        if owner is None or self._catalog.fact(name, owner.type) is None:
            return None
        whole = name.partition(".")[0]
        return None if of_way and self._bench.view.read(owner, whole).only_absent else Leaf(owner, name)

    def _standing_for(self, leaf: Leaf, fact: Fact) -> list[Possible]:
        """The values of a fact that are combined with others: all words and counts, of decisions those that may be, of
        numbers what is shown and the standard sizes beside it.
        """
        if fact.type is ValueType.QUANTITY:
            shown = self._bench.view.read(leaf.subject, leaf.name).number
            if shown is None:
                return []
            below = sorted(size for size in self._bounds.sizes if size < shown)[-SIZES_AROUND:]
            above = sorted(size for size in self._bounds.sizes if size > shown)[:SIZES_AROUND]
            return [number(each) for each in (*below, shown, *above)]
        every = [each.value for each in tried(self._bench, leaf, {}, ()).tried]
        if leaf.name not in self._rows.decisions:
            return every
        may_be = self._bench.view.read(leaf.subject, leaf.name)
        return [each for each in every if may_be.covers(each)]

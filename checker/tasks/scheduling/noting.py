"""Notes of a schedule: what rules say of values, numbered in the order in which they are first called for."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from checker.catalog.model import Fact
from checker.catalog.wording import value_text
from checker.facts.known import Leaf
from checker.findings.assembling.naming import leaf_name
from checker.tasks.scheduling.bench import Bench, Pins, there
from checker.tasks.scheduling.model import Note, Value
from checker.tasks.scheduling.trying import Trial, Tried
from checker.tasks.scheduling.verdicts import corrected_by, open_to, stays

Noting = Callable[[Callable[[Tried], frozenset[int]], Sequence[Tried]], tuple[int, ...]]
"""Gives the numbers of the notes of the rules that are picked of some values."""


class Notes:
    """Numbers notes in the order in which they are first called for."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._told: dict[int, Note] = {}

    @property
    def told(self) -> tuple[Note, ...]:
        """All that were called for."""
        return tuple(self._told.values())

    def numbers(self, found: Sequence[tuple[int, Pins]]) -> tuple[int, ...]:
        """The numbers of some rules, each told at facts with which it misses."""
        return tuple(sorted(self._number(index, pins) for index, pins in found))

    def _number(self, index: int, pins: Pins) -> int:
        note = self._told.get(index)
        if note is None:
            note = self._told[index] = Note(len(self._told) + 1, self._bench.told(index, pins))
        return note.number

    def of(self, leaf: Leaf, pins: Pins) -> Noting:
        """Gives the numbers of the notes of what rules say of some values of a fact."""
        at = {**pins, **there(self._bench.view, leaf)}

        def notes(select: Callable[[Tried], frozenset[int]], among: Sequence[Tried]) -> tuple[int, ...]:
            found: dict[int, Pins] = {}
            for each in among:
                for index in sorted(select(each)):
                    found.setdefault(index, {**at, leaf: each.value})
            return self.numbers(tuple(found.items()))

        return notes


def values_told(fact: Fact, trial: Trial, notes: Noting) -> tuple[Value, ...]:
    """Every value that was tried, with the notes of what turns it down and of what is open."""
    return tuple(
        Value(
            value_text(fact, each.value, fact.unit),
            each.value,
            stays(each),
            notes(corrected_by, [each]),
            notes(open_to, [each]),
        )
        for each in trial.tried
    )


def waited_for(bench: Bench, leaf: Leaf, pins: Pins, doubted: Sequence[Tried]) -> tuple[str, ...]:
    """What the rules wait for that cannot tell of some values: figures before what they are worked out from, and
    what is open of the piece itself before what is of others.
    """
    at = {**pins, **there(bench.view, leaf)}
    found: dict[str, tuple[bool, bool]] = {}
    for each in doubted[:1]:
        for index in sorted(open_to(each)):
            for need in bench.told(index, {**at, leaf: each.value}).needs:
                if need.fact != leaf_name(leaf):
                    is_elsewhere = not need.fact.startswith(f"{leaf.subject.id}.")
                    found.setdefault(need.title, (bool(need.in_place_of), is_elsewhere))
    return tuple(sorted(found, key=lambda title: found[title]))

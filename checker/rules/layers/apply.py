"""Layers applied to the rules of the model codes, rank by rank, on one date.

A change within what its authority may do is made. One beyond it is not made, and the rule stands in both versions, for
the AHJ to decide. So do two changes of one rule by layers of one rank, unless one says that it goes over the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from checker.rules.layers.at_work import AtWork
from checker.rules.layers.bench import Bench, Piece
from checker.rules.model.in_force import DeletedHere, LayerInForce, LayerNotice, RuleInForce
from checker.rules.model.numbers import ParameterValue

Numbers = Mapping[tuple[str, str], ParameterValue]
"""Parameters in force by pack and name."""

NONE: Numbers = {}


@dataclass(frozen=True, slots=True)
class Amended:
    """What the layers make of the rules."""

    rules: tuple[RuleInForce, ...]
    layers: tuple[LayerInForce, ...]
    deleted: tuple[DeletedHere, ...]
    notices: tuple[LayerNotice, ...]
    numbers: Numbers


def amended(rules: Iterable[RuleInForce], layers: Sequence[AtWork], numbers: Numbers = NONE) -> Amended:
    """Apply the layers, those of the lowest rank first. ``numbers`` are the parameters of all packs in force."""
    bench = Bench([Piece(each) for each in rules], dict(numbers))
    for rank in sorted({each.rank for each in layers}):
        bench.apply([each for each in layers if each.rank == rank])
    in_force = tuple(
        LayerInForce(
            each.layer.id,
            each.layer.title,
            each.layer.authority,
            each.layer.digest,
            each.may,
            len({change.terms.number for change in each.changes()}),
            each.where_words,
        )
        for each in sorted(layers, key=lambda each: each.rank)
    )
    return Amended(
        tuple(piece.rule for piece in bench.pieces),
        in_force,
        tuple(bench.deleted),
        tuple(bench.all_notices()),
        bench.numbers,
    )

"""The layers that a profile names, each read on top of those below it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.cache import Cache
from checker.rules.compiled import CompiledRules
from checker.rules.layers.model import Layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model import Pack, Profile
from checker.rules.named_files import find_layer
from checker.values.problems import Problem, Unreadable


def layers_of(
    profile: Profile, folders: Sequence[Path], packs: Sequence[Pack], catalog: Catalog, cache: Cache
) -> tuple[Layer, ...]:
    """The layers of a profile, in its order. Raises Unreadable with the problems of all of them."""
    compiled = CompiledRules(cache)
    layers: list[Layer] = []
    found: list[Problem] = []
    for ranked in profile.layers:
        try:
            path = find_layer(ranked.layer, folders)
            layers.append(compiled.layer(path, catalog, Shelf(tuple(packs), tuple(layers))))
        except Unreadable as error:
            found += (
                problem
                if problem.at is not None
                else Problem(problem.sentence, ranked.at, problem.remedy, problem.near)
                for problem in error.problems
            )
    if found:
        raise Unreadable(found)
    return tuple(layers)

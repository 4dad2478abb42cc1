"""The layers that a profile names, each read on top of those below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.cache import Cache
from checker.rules.compiled import CompiledRules
from checker.rules.layers.model import Layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model.pack import Pack
from checker.rules.model.profile import Profile
from checker.rules.named_files import find_layer
from checker.values.problems import Unreadable


def layers_of(
    profile: Profile, folders: Sequence[Path], packs: Sequence[Pack], catalog: Catalog, cache: Cache
) -> tuple[Layer, ...]:
    """The layers of a profile, in its order. Raises Unreadable with the problems of the first that has any: those above
    it may speak of its rules.
    """
    compiled = CompiledRules(cache)
    layers: list[Layer] = []
    for ranked in profile.layers:
        try:
            path = find_layer(ranked.layer, folders)
            layers.append(compiled.layer(path, catalog, Shelf(tuple(packs), tuple(layers))))
        except Unreadable as error:
            raise Unreadable(
                replace(problem, at=ranked.at) if problem.at is None else problem for problem in error.problems
            ) from error
    return tuple(layers)

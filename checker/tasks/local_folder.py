"""A folder in which an office keeps its own rules: layers and profiles, each layer read on top of those below it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from checker.catalog.model import Catalog
from checker.rules.layers.model import Layer
from checker.rules.layers.read import read_layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model import May, Pack, Profile, Ranked
from checker.rules.named_files import find_layer, named_files
from checker.rules.pack_paths import CASES, shown_folder
from checker.rules.profile import read_profile
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class LocalLayer:
    """A layer with its file and the layers below it; ``event`` and ``may`` are those of the profile that names it,
    None where none does.
    """

    layer: Layer
    path: Path
    below: tuple[Layer, ...] = ()
    event: str | None = None
    may: May | None = None


@dataclass(frozen=True, slots=True)
class LocalFolder:
    """What could be read in a folder, and every problem with the rest."""

    layers: tuple[LocalLayer, ...]
    profiles: tuple[Profile, ...]
    problems: tuple[Problem, ...]


def is_local_folder(folder: Path) -> bool:
    """Whether a layer or a profile lies directly in the folder."""
    return folder.is_dir() and any(_paths(folder, key) for key in ("layer", "profile"))


def read_local_folder(folder: Path, packs: Sequence[Pack], catalog: Catalog, shipped: Path) -> LocalFolder:
    """Every layer and profile of a folder. ``shipped`` holds the layers that come with the program."""
    reader = _Reader(folder, tuple(packs), catalog, (folder, folder.parent, shipped))
    profiles = tuple(reader.profiles())
    layers = tuple(reader.layers(profiles))
    return LocalFolder(layers, profiles, tuple(dict.fromkeys(reader.problems)))


class _Reader:
    """Reads one folder and keeps what is wrong in it."""

    def __init__(self, folder: Path, packs: tuple[Pack, ...], catalog: Catalog, places: Sequence[Path]) -> None:
        self._folder = folder
        self._packs = packs
        self._catalog = catalog
        self._places = places
        self.problems: list[Problem] = []

    def profiles(self) -> Iterator[Profile]:
        """The profiles that can be read."""
        for path in _paths(self._folder, "profile"):
            try:
                yield read_profile(path, self._shown(path), self._catalog)
            except Unreadable as error:
                self.problems += error.problems

    def layers(self, profiles: Iterable[Profile]) -> Iterator[LocalLayer]:
        """The layers of the folder that can be read: those that profiles name in their order, then the others."""
        own = _paths(self._folder, "layer")
        found: dict[Path, LocalLayer] = {}
        for profile in profiles:
            for each in self._ranked(profile):
                if each.path in own:
                    found.setdefault(each.path, each)
        for path in own:
            if path not in found:
                layer = self._read(path, ())
                if layer is not None:
                    found[path] = LocalLayer(layer, path)
        yield from found.values()

    def _ranked(self, profile: Profile) -> Iterator[LocalLayer]:
        below: list[Layer] = []
        for ranked in profile.layers:
            path = self._find(ranked)
            layer = None if path is None else self._read(path, tuple(below))
            if layer is not None and path is not None:
                yield LocalLayer(layer, path, tuple(below), ranked.event or profile.event, ranked.may)
                below.append(layer)

    def _find(self, ranked: Ranked) -> Path | None:
        try:
            return find_layer(ranked.layer, self._places)
        except Unreadable as error:
            self.problems += (replace(problem, at=problem.at or ranked.at) for problem in error.problems)
            return None

    def _read(self, path: Path, below: tuple[Layer, ...]) -> Layer | None:
        try:
            return read_layer(path, self._catalog, Shelf(self._packs, below), self._shown(path))
        except Unreadable as error:
            self.problems += error.problems
            return None

    def _shown(self, path: Path) -> str:
        return f"{shown_folder(path.parent)}/{path.name}"


def _paths(folder: Path, key: str) -> tuple[Path, ...]:
    return tuple(path for _, path in named_files(key, folder) if not path.name.endswith(CASES))
